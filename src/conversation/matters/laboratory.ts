/** The laboratory's results: read, read back, and filed only with the number that the line sent and the year on the slide. */

import { currentResult } from '../../case/case.ts';
import { findCodes, formatCode } from '../../case/code.ts';
import type { FiledResult } from '../../case/events.ts';
import { systemNames } from '../../clinical/cytology/categories.ts';
import { type ParsedResult, parseResult } from '../../clinical/cytology/parse.ts';
import { saysNodeCode } from '../../clinical/cytology/parse-node.ts';
import { typesThatSteer } from '../../clinical/cytology/result-words.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { foldWord } from '../../text/fold.ts';
import { caseLaboratory } from '../case-laboratory.ts';
import { guessesCodes } from '../guesses.ts';
import type { Interpreter } from '../interpret.ts';
import { type Act, type Matter, record } from '../moment.ts';
import { withRole } from '../people.ts';
import { durationOf } from '../programme.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { codesIn, refuseCode } from './codes.ts';
import { askAboutLock, endReadBack, no, yes } from './confirm.ts';
import { releaseOwn } from './freeze.ts';
import { notOurs, saysNotOurs } from './laboratory-desk.ts';
import { resultValues } from './laboratory-words.ts';
import { readNode } from './node-result.ts';
import { dropAbout, type InLaboratory, inLaboratory } from './receipt.ts';
import { namedInResult, withoutApology } from './result-words.ts';

/** A code, null when its check digits fail, and the words that belong to it. */
export interface ResultLine {
  readonly code: string | null;
  readonly words: string;
}

/**
 * Results in a text: words behind a code belong to it, up to the next code; words before the first code belong to that
 * one. So `48291354 Thy4`, `Thy4 for 48291354`, and one result a line or several in a row are all read.
 */
export function resultLines(text: string): readonly ResultLine[] {
  const plain = toAsciiDigits(text);
  const found = findCodes(plain);
  return found.map((one, index) => {
    const before = index === 0 ? plain.slice(0, one.from) : '';
    const behind = plain.slice(one.to, found[index + 1]?.from);
    const words = `${before} ${behind}`.replace(/\b(?:is|for)\b/gi, ' ').replace(/\s+/g, ' ');
    return { code: one.code, words: words.replace(/^[\s,;:.=-]+|[\s,;:-]+$/g, '') };
  });
}

/** True when a text names a specimen with something beside it: it is a result, whatever question is open. */
export function isResult(text: string): boolean {
  return resultLines(text).some((line) => line.words !== '');
}

/** A text that is no keyword: results, one or several. */
function hearWords(turn: Turn, interpreter: Interpreter, text: string): void {
  const { person } = interpreter;
  const lines = resultLines(text);
  turn.disturbed = true;
  if (lines.length === 0) {
    const key = codesIn(text).wrong.length > 0 ? 'laboratory.wrong-code' : 'desk.help-lab';
    turn.say(person, key, { frame: null, caseId: null });
  }
  for (const line of lines) {
    if (line.code === null) turn.say(person, 'laboratory.wrong-code', { frame: null, caseId: null });
    else hearResult(turn, interpreter, line.code, withoutApology(turn.world.texts, person.locale, line.words));
  }
}

function hearResult(turn: Turn, interpreter: Interpreter, code: string, words: string): void {
  const { person } = interpreter;
  const here = inLaboratory(turn, person, code);
  const vars = { shownCode: formatCode(code), shownCodePlain: code };
  if (saysNotOurs(turn, person, words)) {
    notOurs(turn, interpreter, code, here);
    return;
  }
  if (!here) {
    // Unknown, not posted, or another laboratory's: the same words for all, so that nobody learns which codes exist.
    const closed = guessesCodes(turn);
    refuseCode(turn, person, code, 'laboratory.held');
    const told = { ...vars, who: person.name };
    if (!closed) turn.notify('coordinators', 'laboratory.held-for-coordinator', 'notice', null, null, told);
    return;
  }
  const { of, specimen } = here;
  const where = { frame: null, caseId: of.id, item: specimen.id };
  if (specimen.locked) {
    turn.say(person, 'laboratory.locked', where);
    return;
  }
  if (specimen.rejected !== null) {
    turn.say(person, specimen.end === null ? 'laboratory.refused' : 'laboratory.bad-closed', where);
    return;
  }
  const read = specimen.target.kind === 'node' ? readNode(turn, person, words) : readThyroid(turn, person, here, words);
  if ('ask' in read) {
    turn.say(person, read.ask, { ...where, vars: { ...vars, options: read.options.join(', ') } });
    return;
  }
  if (isFiledAlready(here, read)) {
    if (specimen.readBack) {
      endReadBack(turn, interpreter, of.id, specimen.id);
      turn.record(of.id, { type: 'read-back-dropped', specimen: specimen.id, why: 'replaced' });
    }
    turn.say(person, 'laboratory.same', where);
    return;
  }
  readBack(turn, interpreter, here, read);
}

/** Asked back: nothing is filed by a guess. */
interface AskedBack {
  readonly ask: TextKey;
  readonly options: readonly string[];
}

/** A thyroid sample's result. A node's category is refused with words: the two systems are never converted. */
function readThyroid(
  turn: Turn,
  person: Person,
  { of, specimen }: InLaboratory,
  words: string,
): FiledResult | AskedBack {
  if (saysNodeCode(words)) return { ask: 'laboratory.ask-not-a-node', options: [] };
  // Systems number alike what they do not mean alike: the one that counts is of whoever looks through the microscope.
  const lab = caseLaboratory(turn.world.programme, of, [specimen]);
  const parsed = parseResult(words, lab.system.toLowerCase() as 'thy' | 'bethesda' | 'tir');
  return parsed.ok ? filed(turn, person, parsed) : { ask: askKey(parsed), options: parsed.options };
}

/** The same category with no words, or with the same ones, says nothing new. */
function isFiledAlready({ of, specimen }: InLaboratory, read: FiledResult): boolean {
  const filed = currentResult(specimen);
  const before = filed?.result;
  // What was said not to count is filed anew.
  const isVoid = of.milestones.some(
    ({ at, event }) => event.type === 'rejected' && event.specimen === specimen.id && at > (filed?.at ?? 0),
  );
  if (isVoid || !before || before.code !== read.code) return false;
  return read.words === '' || foldWord(read.words) === foldWord(before.words);
}

function askKey(parsed: ParsedResult & { readonly ok: false }): TextKey {
  switch (parsed.ask) {
    case 'bare-number':
    case 'bare-roman':
      return 'laboratory.ask-bare-number';
    case 'letter-missing':
    case 'letter-unclear':
      return 'laboratory.ask-letter-missing';
    case 'two-codes':
      return 'laboratory.ask-two-codes';
    case 'no-such-code':
      return parsed.options.length > 0 ? 'laboratory.ask-no-such-code' : 'laboratory.ask-unreadable';
    case 'unreadable':
      return 'laboratory.ask-unreadable';
  }
}

/** The laboratory's words are read once, in its own language, and what they name goes with the result. */
function filed(turn: Turn, person: Person, parsed: ParsedResult & { readonly ok: true }): FiledResult {
  const { said, system, code, canonical, words } = parsed;
  const types = typesThatSteer(namedInResult(turn.world.texts, person.locale, words), canonical);
  const result = { said, system: systemNames[system], code, canonical, words };
  return types.length > 0 ? { ...result, types } : result;
}

/** Opens a read-back with a number of its own; an older one of the same specimen is over. */
function readBack(turn: Turn, interpreter: Interpreter, here: InLaboratory, result: FiledResult): void {
  const { of, specimen } = here;
  endReadBack(turn, interpreter, of.id, specimen.id);
  // Whoever has looked at the glass is not asked how much of it came.
  dropAbout(turn, 'more-came', here);
  if (specimen.readBack) {
    turn.record(of.id, { type: 'read-back-dropped', specimen: specimen.id, why: 'replaced' });
  }
  const lapsesAt = turn.now + durationOf(turn.world.programme, 'read-back-lapse');
  const challenge = turn.draw.digits(4);
  turn.record(of.id, { type: 'read-back', specimen: specimen.id, result, challenge, lapsesAt });
  const vars = { readBackAt: turn.now };
  interpreter.run('read-back', { caseId: of.id, item: specimen.id, vars });
}

/** A worker's `YES` takes a WRONG back. The laboratory's, after the read-back lapsed, gets a fresh one, never a filing. */
function hearYes(turn: Turn, interpreter: Interpreter, rest: string): void {
  if (releaseOwn(turn, interpreter, rest)) return;
  if (!interpreter.person.roles.includes('lab')) {
    turn.say(interpreter.person, 'freeze.nothing-frozen', { frame: null, caseId: null });
    turn.disturbed = true;
    return;
  }
  const late = yes(turn, interpreter, rest);
  if (late) readBack(turn, interpreter, late, late.specimen.lapsed ?? late.specimen.readBack!.result);
}

export const laboratory: Matter = {
  commands: {
    YES: { roles: ['lab', 'worker'], run: hearYes },
    NO: { roles: ['lab'], everyday: true, run: (turn, interpreter) => no(turn, interpreter) },
    WORDS: { roles: ['lab'], run: hearWords, claims: isResult },
  },
  decisions: {
    // Somebody else of the laboratory may have confirmed, replaced or denied it meanwhile.
    'read-back-open': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.specimen?.readBack && m.specimen.readBack.at === m.frame.vars.readBackAt ? 'yes' : 'no'),
    },
    'still-locked': { outcomes: ['yes', 'no'], decide: (m) => (m.specimen?.locked ? 'yes' : 'no') },
  },
  recorders: {
    'read-back-lapsed': (m) => [record({ type: 'read-back-dropped', specimen: m.specimen!.id, why: 'lapsed' })],
    'thy1-reason': (m) => [
      record({ type: 'thy1-reason', specimen: m.specimen!.id, reason: String(m.answer) }),
      { do: 'notify', to: 'owner', text: 'laboratory.thy1-reason-for-worker', lane: 'notice' },
    ],
    // The coordinator has spoken with the laboratory: texts may file again.
    'unlock-results': (m) => [
      record({ type: 'results-unlocked', specimen: m.specimen!.id }),
      { do: 'notify', to: 'lab', text: 'laboratory.unlocked', lane: 'notice' },
      ...withRole(m.world, 'coordinator')
        .filter((one) => one.id !== m.person.id)
        .map((one): Act => ({ do: 'post', personId: one.id, what: askAboutLock(m.case!.id, m.specimen!.id) })),
    ],
  },
  instants: resultValues.instants,
  values: resultValues.values,
};
