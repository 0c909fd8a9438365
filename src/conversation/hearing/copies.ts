/** Texts that no person wrote: copies of our own, or the same text over and over. Known by numbers, so that no text is kept. */
import { foldWord } from '../../text/fold.ts';
import type { StepResult } from '../effect.ts';
import type { ConversationState } from '../state.ts';

/** Texts of ours that are remembered for a person. */
const mostMarks = 6;

/** Every text of ours is longer, characters; what people write in danger is often not. */
const shortestText = 20;

/** A number that stands for a text, the same for the same words: FNV-1a of 32 bit (Fowler, Noll, Vo; from memory). */
export function markOf(text: string): number {
  let sum = 0x811c9dc5;
  for (const sign of foldWord(text)) sum = Math.imul(sum ^ sign.codePointAt(0)!, 0x01000193) >>> 0;
  return sum;
}

/** The state after an unreadable text: how many copies of our texts or of itself came in a row, this one counted. */
export function countCopy(state: ConversationState, text: string): ConversationState & { copies: { count: number } } {
  const mark = markOf(text);
  const before = state.copies;
  const copy = before?.mark === mark || state.saidMarks?.includes(mark) === true;
  return { ...state, copies: { mark, count: copy ? (before?.count ?? 0) + 1 : 0 } };
}

/** True: word for word one of the last texts to this person; none of them is a word or two. */
export function isOwnCopy(state: ConversationState, text: string): boolean {
  return text.length > shortestText && state.saidMarks?.includes(markOf(text)) === true;
}

/** The result whose state knows what was said to the person in it. */
export function rememberSaid(result: StepResult): StepResult {
  if (result.state === null) return result;
  const marks = result.says.filter((one) => one.personId === result.personId).map((one) => markOf(one.text));
  if (marks.length === 0) return result;
  const saidMarks = [...(result.state.saidMarks ?? []), ...marks].slice(-mostMarks);
  return { ...result, state: { ...result.state, saidMarks } };
}
