import type { Recorded, Said } from '../transcript.ts';
import { type Invariant, recordsOf, saidOf } from './invariant.ts';
import { localDay } from './local-day.ts';

/** After an alarm there is no other needle on that day, unless a doctor has allowed it since that alarm; a code alone is none. */
export const alarmLifted: Invariant = {
  name: 'no needle on the day of an alarm, unless a doctor has allowed it after that alarm',
  broken: (walked) => {
    if (walked.of.practice) return [];
    const records = recordsOf(walked);
    const asked = saidOf(walked).filter(isNeedle);
    const found = asked.flatMap((needle) => {
      const alarm = alarmsOf(records).findLast((one) => one < needle.at && localDay(one) === localDay(needle.at));
      if (alarm === undefined) return [];
      // What was begun before the alarm came is told after it.
      const begun = asked.findLast((one) => one.at <= alarm);
      if (begun && numberOf(begun) === numberOf(needle)) return [];
      const isAllowed = records.some((one) => one.at > alarm && one.at <= needle.at && isYes(one));
      return isAllowed ? [] : [`try ${numberOf(needle)} on the day of an alarm, and no doctor has allowed it since`];
    });
    return [...new Set(found)];
  },
};

/** The line waits for what a needle has brought. */
const isNeedle = ({ role, ask }: Said): boolean => role === 'worker' && ask?.field === 'attempt';

/** A doctor who allows a try reads of the alarm in the same text. */
const isYes = ({ record: { event } }: Recorded): boolean =>
  (event.type === 'answered' && event.field === 'alarm-allowed' && event.value === true) ||
  (event.type === 'doctor-answered' && event.answer === 'one-more');

/** Each try of each specimen has digits of its own. */
const numberOf = ({ ask }: Said): string => `${ask?.item} ${ask?.options[0]?.reply}`;

/** When alarms of a patient were raised; of a needle-stick the patient has nothing. */
function alarmsOf(records: readonly Recorded[]): readonly number[] {
  const alarms: number[] = [];
  let raised: number[] = [];
  for (const { record, at } of records) {
    const { event } = record;
    if (event.type === 'sos-over') {
      alarms.push(...raised);
      raised = [];
    }
    if (event.type === 'sos-raised') raised = event.sign === 'needle-stick' ? [] : [...raised, at];
  }
  return [...alarms, ...raised];
}
