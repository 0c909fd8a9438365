/** A text read as the answer of one open question, or of the patient whose tag stands in front. */
import { foldWord } from '../text/fold.ts';
import { isOpenAlarm } from './alarm-digits.ts';
import type { UnreadableReason } from './answers/answer.ts';
import { isOwnCopy } from './hearing/copies.ts';
import { type Interpreter, stateOf, topFrame } from './interpret.ts';
import { type Answer, readAnswer } from './reading.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';

/** What a text comes to as the answer of one thread's question. */
export type Read =
  | { readonly kind: 'exact' | 'read'; readonly answer: Answer }
  | { readonly kind: 'unreadable'; readonly reason: UnreadableReason };

/** Null where nothing is asked there, or what was asked is asked anew behind another question. */
export function answerOf(turn: Turn, interpreter: Interpreter, asking: Thread, text: string): Read | null {
  const frame = topFrame(asking);
  const state = frame ? stateOf(turn, frame) : null;
  if (!frame || !state?.ask || !asking.ask || asking.ask.moved) return null;
  // Our own text, sent back by a machine, is nobody's words.
  if (state.ask.kind === 'text' && isOwnCopy(turn.state, text)) return { kind: 'unreadable', reason: 'not-an-option' };
  const read = readAnswer(turn, interpreter.momentOf(asking, frame), state.ask, asking.ask, text);
  if (!read.ok) return { kind: 'unreadable', reason: read.reason };
  // Free words could be anything, a command too; digits and option words are what they are.
  const isExact = state.ask.kind !== 'text' || read.value.exact === true;
  return { kind: isExact ? 'exact' : 'read', answer: read.value };
}

/**
 * `AK 13`, `AK: yes`: an answer with its patient's tag in front goes to that patient's question, whichever is asked now.
 * Null where no question of such a patient is open, or where what stands behind the tag does not answer it.
 */
export function answerByTag(
  turn: Turn,
  interpreter: Interpreter,
  text: string,
): { readonly thread: Thread; readonly text: string; readonly answer: Answer } | null {
  const [, tag = '', rest = ''] = /^\s*([\p{L}\p{N}-]+)\s*[:,.]?\s+(\S.*)$/u.exec(text) ?? [];
  if (rest === '' || turn.world.texts.keyword(interpreter.person.locale, foldWord(tag)) !== null) return null;
  const own = turn.threads.filter((one) => foldWord(turn.caseOf(one.caseId)?.tag ?? '') === foldWord(tag));
  for (const thread of own.toReversed()) {
    if (thread.ask === null || isOpenAlarm(turn, topFrame(thread))) continue;
    const read = answerOf(turn, interpreter, thread, rest);
    if (read?.kind === 'exact') return { thread, text: rest, answer: read.answer };
  }
  return null;
}
