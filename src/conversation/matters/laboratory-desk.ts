/** What a laboratory asks and sorts out besides receipts and results: what is on its way, a question to the sender, not ours. */
import { laboratoryStatuses } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import { foldWord } from '../../text/fold.ts';
import { quotedWords } from '../../text/one-line.ts';
import type { Interpreter } from '../interpret.ts';
import type { Act, Matter } from '../moment.ts';
import { carrier, laboratoryPeople } from '../people.ts';
import { siteOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import type { Turn } from '../turn.ts';
import type { CaseBrief, Person } from '../world.ts';
import { codesIn, refuseCode, withoutCodes } from './codes.ts';
import { dayWords } from './common.ts';
import { type InLaboratory, inLaboratory } from './receipt.ts';

/** Longest question that is passed on, characters: more does not fit beside the code. */
const longestQuestion = 200;

/** A laboratory's list: what is on its way to it and what waits for its result, the day on which each is due. */
export function laboratoryLines(turn: Turn, person: Person): readonly string[] {
  const { texts, programme } = turn.world;
  const own = (one: CaseBrief): boolean =>
    laboratoryPeople(turn.world, siteOf(programme, one.siteId).labId).some((each) => each.id === person.id);
  return turn.world.briefs.filter(own).flatMap((one) => {
    const at = laboratoryStatuses.find((status) => status === one.status);
    if (at === undefined) return [];
    const day = (at: number): string =>
      dayWords(localTime(at, siteOf(programme, person.siteId).zone), texts.months(person.locale));
    const due = one.dueAt === null ? '' : day(one.dueAt);
    const status = texts.render(person.locale, `laboratory.list-${at}`, () => due);
    return one.codes.map((code) => `${formatCode(code)} ${siteOf(programme, one.siteId).name} ${status}`);
  });
}

/** `ASK 48291354 which side?`: the words go to the clinic, its answer comes back to this phone. */
function ask(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  const { codes, wrong } = codesIn(rest);
  const words = quotedWords(withoutCodes(rest), longestQuestion);
  const code = codes[0];
  turn.disturbed = true;
  if (code === undefined || words === '') {
    turn.say(person, wrong.length > 0 ? 'laboratory.wrong-code' : 'laboratory.ask-how', { frame: null, caseId: null });
    return;
  }
  const here = inLaboratory(turn, person, code);
  if (!here) {
    refuseCode(turn, person, code, 'laboratory.unknown-code');
    return;
  }
  const where = { frame: null, caseId: here.of.id, item: here.specimen.id };
  const who = carrier(turn.world, here.of);
  turn.record(here.of.id, {
    type: 'noted',
    words: turn.world.texts.render(person.locale, 'history.lab-asks', () => words),
  });
  if (!who) {
    turn.notify('coordinators', 'laboratory.asks-coordinator', 'notice', here.of.id, here.specimen.id, { words });
  } else {
    const vars = { words, asker: person.id };
    const run = { kind: 'run', flow: 'lab-asks', caseId: here.of.id, item: here.specimen.id, vars } as const;
    turn.post(who.id, run, { caseId: here.of.id });
  }
  turn.say(person, who ? 'laboratory.asked-clinic' : 'laboratory.asked-coordinator', where);
}

/** True: the words beside a code say that the parcel is not for this laboratory. */
export function saysNotOurs(turn: Turn, person: Person, words: string): boolean {
  const said = foldWord(words.replace(/[.!]+$/, ''));
  return turn.world.texts.words(person.locale, 'lab-words', 'not-ours').includes(said);
}

/** Not this laboratory's: nothing is refused or filed; clinic and coordinator find out where it belongs. */
export function notOurs(turn: Turn, interpreter: Interpreter, code: string, here: InLaboratory | null): void {
  const { person } = interpreter;
  const vars = { shownCode: formatCode(code), who: person.name };
  if (!here) {
    // Another laboratory's, or nobody's: the same words, so that nobody learns which codes exist.
    refuseCode(turn, person, code, 'laboratory.stray');
    turn.notify('coordinators', 'laboratory.stray-for-coordinator', 'notice', null, null, vars);
    return;
  }
  const { of, specimen } = here;
  turn.record(of.id, {
    type: 'noted',
    words: turn.world.texts.render(person.locale, 'history.lab-not-ours', () => ''),
  });
  turn.notify('owner', 'laboratory.not-ours-for-worker', 'notice', of.id, specimen.id, {});
  turn.notify('coordinators', 'laboratory.not-ours-for-coordinator', 'notice', of.id, specimen.id, {});
  turn.say(person, 'laboratory.not-ours', { frame: null, caseId: of.id, item: specimen.id });
}

export const laboratoryDesk: Matter = {
  commands: { ASK: { roles: ['lab'], everyday: true, run: ask } },
  recorders: {
    'answer-lab': (m): readonly Act[] => {
      const asker = String(m.frame.vars.asker ?? '');
      const words = quotedWords(String(m.answer ?? ''), longestQuestion);
      const what = {
        kind: 'tell',
        key: 'laboratory.answer-from-clinic',
        caseId: m.case!.id,
        item: m.frame.item,
        vars: { words },
        lane: 'notice',
      } as const;
      return [
        {
          do: 'record',
          event: { type: 'noted', words: m.world.texts.render(m.person.locale, 'history.to-lab', () => words) },
        },
        { do: 'post', personId: asker, what },
      ];
    },
  },
};
