/** A text that could not be read as an answer: what was expected, a person after some, and an end to copies that a machine sends. */

import { visitStatuses } from '../case/bedside.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { longestQuoted, quotedWords } from '../text/one-line.ts';
import { screensOf } from '../text/screens.ts';
import { isOpenAlarm } from './alarm-digits.ts';
import { repeatAlarm } from './answer-alarm.ts';
import type { UnreadableReason } from './answers/answer.ts';
import { countCopy } from './hearing/copies.ts';
import { Interpreter, stateOf, topFrame } from './interpret.ts';
import { countUnread } from './keep-voice.ts';
import { caseName } from './matters/case-name.ts';
import { nameAndNumber } from './matters/whom-to-phone.ts';
import { withRole } from './people.ts';
import { durationOf, limitOf } from './programme.ts';
import type { OpenAsk, Thread } from './state.ts';
import { sayTrial } from './trial.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** True: copies of our own texts, or of one text, keep coming. Said once, the coordinators read the words; then no answer. */
export function isCopiedOn(turn: Turn, person: Person, text: string, caseId: string | null): boolean {
  const counted = countCopy(turn.state, text);
  turn.state = counted;
  const most = limitOf(turn.world.programme, 'repeats');
  if (counted.copies.count < most) return false;
  if (counted.copies.count === most) {
    turn.say(person, 'common.copies', { frame: null, caseId });
    const vars = { who: person.name, words: quotedWords(text, longestQuoted) };
    turn.notify('coordinators', 'common.loop', 'notice', caseId, null, vars);
  }
  return true;
}

/** Says what was expected. `text`: as it was sent. */
export function notRead(turn: Turn, person: Person, asking: Thread, text: string, reason: UnreadableReason): void {
  const { caseId } = asking;
  const misses = turn.state.misses + 1;
  turn.state = { ...turn.state, misses };
  if (isCopiedOn(turn, person, text, caseId)) return;
  countUnread(turn, caseId ?? asking.id);
  if (isOpenAlarm(turn, topFrame(asking))) {
    repeatAlarm(turn, new Interpreter(turn, person), asking, text);
    return;
  }
  const { ask } = asking;
  // A text about a patient begins with the patient's tag, this one too.
  const tag = caseName(person, turn.caseOf(caseId), topFrame(asking)?.item ?? null);
  const values: Readonly<Record<string, string>> = {
    lead: tag === '' ? '' : `${tag}: `,
    said: quotedWords(text, longestSaid),
    reason: causeOf(turn, person, ask!, reason),
  };
  const words = turn.world.texts.render(person.locale, 'common.not-read', (name) => values[name] ?? '');
  sayTrial(turn, person, 'reply');
  turn.sayText(person, words, { frame: null, caseId, step: 'unreadable' });
  if (misses < limitOf(turn.world.programme, 'misses')) offerWays(turn, person, asking);
  else offerPerson(turn, person, asking, misses, text);
  // The question has scrolled away on a small phone: it comes again, in full, whatever was sent.
  turn.disturbed = true;
}

/** Longest words of an unreadable text that are shown back, characters: what is said of them is one screen. */
const longestSaid = 40;

/** Why it was not read. What could be sent stands in the question, which follows; an example where its form was the fault. */
function causeOf(turn: Turn, person: Person, ask: OpenAsk, reason: UnreadableReason): string {
  const own = `common.example-${ask.field}`;
  const form = reason.includes('date') ? 'date' : ask.kind;
  const key: TextKey | null = turn.world.texts.has(own) ? own : form === 'text' ? null : `common.example-${form}`;
  const isAsked = form === 'choice' || (form === 'choices' && reason === 'not-an-option');
  const values: Readonly<Record<string, string>> = { example: exampleOf(ask.options) };
  const expected =
    key === null || isAsked ? '' : turn.world.texts.render(person.locale, key, (name) => values[name] ?? '');
  const words = turn.world.texts.render(person.locale, `common.expected-${reason}`, () => expected);
  return words.trim();
}

/** What else can be sent than an answer, where it is so. */
function offerWays(turn: Turn, person: Person, asking: Thread): void {
  const asksDoctor = turn.registry.commands.get('DOCTOR')?.roles.some((role) => person.roles.includes(role)) === true;
  const goesBack = new Interpreter(turn, person).hasBack(asking);
  const key = asksDoctor ? (goesBack ? 'common.ways-out' : 'common.ways-out-no-back') : 'common.ways-out-doctor';
  turn.say(person, key, { frame: null, caseId: asking.caseId });
}

/** Two answers in one text as they can be sent here: `12`, or `51 52` where each has two digits. */
function exampleOf(options: readonly { readonly id: string; readonly reply: string }[]): string {
  const adding = options.filter(({ id, reply }) => id !== 'none' && id !== 'unknown' && /^\d+$/u.test(reply));
  const [one, other] = adding.map(({ reply }) => reply);
  if (one === undefined || other === undefined) return one ?? '';
  return one.length > 1 || other.length > 1 ? `${one} ${other}` : `${one}${other}`;
}

function offerPerson(turn: Turn, person: Person, asking: Thread, misses: number, text: string): void {
  const { caseId } = asking;
  const isHeard = withRole(turn.world, 'coordinator').some((one) => one.id !== person.id);
  turn.say(person, isHeard ? 'common.offer-human' : 'common.offer-doctor', { frame: null, caseId });
  if (misses === limitOf(turn.world.programme, 'misses')) tellStuck(turn, person, asking, text);
}

/** Characters of the question and of the answer that a coordinator reads. */
const mostShown = 70;

/** How the open question begins; of one with digits that prove something, and of a laboratory's, nothing is shown. */
function questionOf(turn: Turn, person: Person, asking: Thread): string {
  const frame = topFrame(asking);
  const state = frame ? stateOf(turn, frame) : null;
  if (!frame || !state?.ask || state.ask.options.some((one) => one.secret) || !person.roles.includes('worker'))
    return '';
  const text = turn.render(person, state.text, frame, asking.caseId);
  return quotedWords(screensOf(text).at(-1) ?? '', mostShown);
}

/** The coordinators read once in a while which question it is, what was sent, and whom to phone. */
function tellStuck(turn: Turn, person: Person, asking: Thread, text: string): void {
  const { world, now } = turn;
  const { stuckToldAt } = turn.state;
  if (stuckToldAt !== undefined && now - stuckToldAt < durationOf(world.programme, 'stuck-again')) return;
  turn.state = { ...turn.state, stuckToldAt: now };
  const frame = topFrame(asking);
  const status = turn.caseOf(asking.caseId)?.status;
  const vars = {
    who: person.name,
    number: nameAndNumber(person),
    asked: questionOf(turn, person, asking),
    said: quotedWords(text, mostShown),
    urgency: status !== undefined && visitStatuses.has(status) ? 'now' : 'today',
  };
  turn.notify('coordinators', 'common.stuck', 'notice', asking.caseId, frame?.item ?? null, vars);
}
