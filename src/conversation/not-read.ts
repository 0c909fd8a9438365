/** A text that could not be read as an answer: what was expected, a person after some, and an end to copies that a machine sends. */

import type { TextKey } from '../generated/text-keys.ts';
import { longestQuoted, quotedWords } from '../text/one-line.ts';
import { isOpenAlarm } from './alarm-digits.ts';
import { repeatAlarm } from './answer-alarm.ts';
import type { UnreadableReason } from './answers/answer.ts';
import { countCopy } from './hearing/copies.ts';
import { Interpreter, topFrame } from './interpret.ts';
import { limitOf } from './programme.ts';
import type { Thread } from './state.ts';
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
  if (isOpenAlarm(turn, topFrame(asking))) {
    repeatAlarm(turn, new Interpreter(turn, person), asking, text);
    return;
  }
  const ask = asking.ask!;
  const replies = ask.options.map((one) => one.reply);
  const own = `common.example-${ask.field}`;
  const key: TextKey = turn.world.texts.has(own) ? own : `common.example-${ask.kind}`;
  const values: Readonly<Record<string, string>> = { replies: replies.join(' '), example: exampleOf(ask.options) };
  const expected = turn.world.texts.render(person.locale, key, (name) => values[name] ?? replies[0] ?? '');
  // A text about a patient begins with the patient's tag, this one too.
  const tag = turn.caseOf(caseId)?.tag ?? '';
  const words = turn.world.texts.render(person.locale, `common.expected-${reason}`, (name) =>
    name === 'expected' ? expected : '',
  );
  turn.sayText(person, tag === '' ? words : `${tag}: ${words}`, { frame: null, caseId, step: 'unreadable' });
  offerPerson(turn, person, caseId, misses);
}

/** Two answers in one text as they can be sent here: `12`, or `51 52` where each has two digits. */
function exampleOf(options: readonly { readonly id: string; readonly reply: string }[]): string {
  const adding = options.filter(({ id, reply }) => id !== 'none' && id !== 'unknown' && /^\d+$/u.test(reply));
  const [one, other] = adding.map(({ reply }) => reply);
  if (one === undefined || other === undefined) return one ?? '';
  return one.length > 1 || other.length > 1 ? `${one} ${other}` : `${one}${other}`;
}

function offerPerson(turn: Turn, person: Person, caseId: string | null, misses: number): void {
  const most = limitOf(turn.world.programme, 'misses');
  if (misses < most) return;
  turn.say(person, 'common.offer-human', { frame: null, caseId });
  if (misses === most) turn.notify('coordinators', 'common.stuck', 'notice', caseId, null, { who: person.name });
  // The question itself may be what was lost: it comes again, in full.
  if (misses > most) turn.disturbed = true;
}
