/** What is stored while the disk is full and only what was held back for alarms is left. */
import type { DueWhat, LineEvent } from '../conversation/event.ts';
import type { AlarmWords } from '../conversation/hearing/alarm-words.ts';
import { isAlarm } from './is-alarm.ts';
import type { ChangeSet } from './ports.ts';

/** True: an alarm, an answer about one, or word to the coordinators that the line is in trouble. */
export function goesOnReserve(event: LineEvent, change: ChangeSet, languages: readonly AlarmWords[]): boolean {
  if (isAlarm(event, languages) || (event.kind === 'due' && isTrouble(event.due.what))) return true;
  return (
    change.outbox.some((one) => one.lane === 'sos') ||
    change.questions.some((one) => one.value.urgency === 'now') ||
    change.due.some(({ what }) => what.kind === 'tell' && what.lane === 'sos')
  );
}

function isTrouble(what: DueWhat): boolean {
  return what.kind === 'trouble' || (what.kind === 'tell' && /^trouble\./.test(what.key));
}
