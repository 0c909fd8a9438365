/** SAY: sentences to read aloud to the patient at hand, in the patient's words. */
import { type Case, specimenOf } from '../../case/case.ts';
import { specimenOwed } from '../../case/duty.ts';
import { foldWord } from '../../text/fold.ts';
import { isRaised } from '../alarm-digits.ts';
import { askingThread, type Interpreter, topFrame } from '../interpret.ts';
import type { Matter } from '../moment.ts';
import { openAlarms } from '../open-alarm.ts';
import { durationOf } from '../programme.ts';
import type { Thread } from '../state.ts';
import type { Turn } from '../turn.ts';
import { caseByCode, codesIn, refuseCode, withoutCodes } from './codes.ts';
import { dayAt } from './common.ts';
import { whatToSay } from './what-to-say.ts';

/** A patient, and the specimen that is meant where one is. */
interface AtHand {
  readonly of: Case;
  readonly item: string | null;
  readonly byCode: boolean;
}

/**
 * The patient whose code or tag stands behind the word, else the one that is asked about, else the last one. Null: nobody is at
 * hand. `refused`: the code is wrong or not for this person, which has been said.
 */
function atHand(turn: Turn, { person }: Interpreter, rest: string): AtHand | 'refused' | null {
  const { codes, wrong } = codesIn(rest);
  const [code] = codes;
  if (code !== undefined) {
    const of = caseByCode(turn, person, code);
    if (of) return { of, item: specimenOf(of, code)?.id ?? null, byCode: true };
    refuseCode(turn, person, code);
    return 'refused';
  }
  if (wrong.length > 0) {
    turn.say(person, 'desk.wrong-code', { frame: null, caseId: null });
    return 'refused';
  }
  const tag = foldWord(withoutCodes(rest).split(/\s/)[0] ?? '');
  const threads = turn.threads.filter((one) => turn.caseOf(one.caseId) !== null);
  const named = threads.filter((one) => tag !== '' && foldWord(turn.caseOf(one.caseId)!.tag) === tag).at(-1);
  const asking = askingThread(turn);
  // Somebody is begun and not named yet: it is about nobody else.
  if (!named && asking && asking.caseId === null) return null;
  const thread = named ?? asking ?? threads.at(-1) ?? null;
  const of = turn.caseOf(thread?.caseId ?? null);
  return thread && of ? { of, item: itemOf(turn, thread, of), byCode: false } : null;
}

/** The specimen of the conversation about this patient, newest first; else the one whose result is to be acted on. */
function itemOf(turn: Turn, thread: Thread, of: Case): string | null {
  const threads = [thread, ...turn.threads.filter((one) => one.caseId === of.id).reverse()];
  const named = threads.map((one) => specimenOf(of, topFrame(one)?.item ?? null)).find((one) => one !== null);
  return named?.id ?? specimenOwed(of, 'action');
}

function say(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  turn.disturbed = true;
  const found = atHand(turn, interpreter, rest);
  if (found === 'refused') return;
  if (found === null) {
    turn.say(person, 'say.no-patient', { frame: null, caseId: null });
    return;
  }
  const { of } = found;
  const item = found.item ?? specimenOwed(of, 'action') ?? of.specimens.at(-1)?.id ?? null;
  // Others read a shared phone too: what a result says is told to whoever knows the code.
  const hasResult = (specimenOf(of, item)?.results.length ?? 0) > 0;
  if (person.shared && hasResult && !found.byCode) {
    turn.say(person, 'say.with-code', { frame: null, caseId: of.id, item });
    return;
  }
  const alarm = openAlarms(turn).find((one) => one.caseId === of.id);
  const isLost = (about: string): boolean => about === 'parcel-lost';
  const saying = whatToSay(of, item, {
    alarm: alarm ? (isRaised(turn, topFrame(alarm)) ? 'first-aid' : 'emergency') : null,
    parcelLost: turn.questions.some((one) => one.caseId === of.id && one.answeredAt === null && isLost(one.about)),
  });
  turn.say(person, `say.${saying}`, { frame: null, caseId: of.id, item });
}

export const sayMatter: Matter = {
  commands: { SAY: { roles: ['worker'], everyday: true, run: say } },
  values: {
    // Before a needle: as long from now as the patient is told on going home.
    resultAbout: {
      of: (m) => dayAt(m, m.now + durationOf(m.world.programme, 'result-told')),
      sample: '26 MAR',
    },
  },
};
