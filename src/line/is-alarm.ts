import type { LineEvent } from '../conversation/event.ts';
import { saysSos } from '../conversation/plain-words.ts';

/** True for what is handled before all else: an SOS, as a text or a tap, and what an alarm says to others. */
export function isAlarm(event: LineEvent): boolean {
  if (event.kind === 'tap') return saysSos(event.reply);
  if (event.kind !== 'due') return saysSos(event.text);
  const { what } = event.due;
  // Who asks whom is known; how urgently stands with the question.
  return what.kind === 'ask-doctor' || (what.kind === 'tell' && what.lane === 'sos');
}
