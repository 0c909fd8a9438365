import type { LineEvent } from '../conversation/event.ts';
import { alarmIn } from '../conversation/hearing/alarm-in.ts';
import type { AlarmWords } from '../conversation/hearing/alarm-words.ts';

/** True for what is handled before all else: an alarm in any of these languages, as a text or a tap, and what it says to others. */
export function isAlarm(event: LineEvent, languages: readonly AlarmWords[]): boolean {
  if (event.kind === 'tap') return alarmIn(event.reply, languages) !== null;
  if (event.kind !== 'due') return alarmIn(event.text, languages) !== null;
  const { what } = event.due;
  // Who asks whom is known; how urgently stands with the question.
  return what.kind === 'ask-doctor' || what.kind === 'unknown-alarm' || (what.kind === 'tell' && what.lane === 'sos');
}
