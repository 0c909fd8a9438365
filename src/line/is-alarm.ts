import type { DueWhat, LineEvent } from '../conversation/event.ts';
import { alarmIn } from '../conversation/hearing/alarm-in.ts';
import type { AlarmWords } from '../conversation/hearing/alarm-words.ts';

/** True for what is handled before all else: an alarm in any of these languages, as a text or a tap, and what it says to others. */
export function isAlarm(event: LineEvent, languages: readonly AlarmWords[]): boolean {
  if (event.kind === 'tap') return alarmIn(event.reply, languages) !== null;
  if (event.kind !== 'due') return alarmIn(event.text, languages) !== null;
  const { what } = event.due;
  return what.kind === 'tell' ? what.lane === 'sos' : saysAlarm[what.kind];
}

/** Whether a due row may be about an alarm; of a text that is told its lane says so. */
const saysAlarm: Readonly<Record<Exclude<DueWhat['kind'], 'tell'>, boolean>> = {
  timer: false,
  run: false,
  answered: false,
  'alarm-again': false,
  'unknown-alarm': true,
  // Who asks whom is known; how urgently stands with the question.
  'ask-doctor': true,
  'part-missing': false,
  picture: false,
  climb: false,
  'hand-over': false,
  receive: false,
  standing: false,
  welcome: false,
  stock: false,
  overview: false,
  undelivered: false,
  trouble: false,
  'line-back': false,
  mend: false,
  'look-again': false,
  overdue: false,
};
