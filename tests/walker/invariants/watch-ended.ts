import { siteOf } from '../../../src/conversation/programme.ts';
import { instantOf, localTime } from '../../../src/conversation/schedule.ts';
import type { Entry, Said, Walked } from '../transcript.ts';
import { type Invariant, recordsOf, withCase } from './invariant.ts';

const minuteMs = 60_000;
/** A question that somebody is in the middle of may be answered first. */
const lateMs = 30 * minuteMs;

/** Whoever carries the case when the patient may go is asked how the neck is: whoever it was when the watch began. */
export const watchEnded: Invariant = {
  name: 'the end of a watch is asked about, whoever carries the case by then',
  broken: (walked) => {
    const told = withCase(walked).flatMap(({ entry, of }) => {
      const until = entry.kind === 'said' && entry.caseId === walked.of.id ? untilOf(walked, entry) : null;
      return until === null || of?.practice === true ? [] : [{ entry, until }];
    });
    return told.flatMap(({ entry, until }, index) => {
      const later = told[index + 1];
      if ((later && later.entry.at <= until + lateMs) || until + lateMs > walked.endedAt) return [];
      // Before the label is on the glass there are other questions first.
      const last = recordsOf(walked).findLast((one) => one.at <= until);
      if (last?.after.status !== 'aftercare') return [];
      const meanwhile = walked.entries.filter((one) => one.at > entry.at && one.at <= until + lateMs);
      if (meanwhile.some((one) => isOther(one, walked.of.id))) return [];
      const isAsked = meanwhile.some(
        (one) => one.kind === 'said' && one.caseId === walked.of.id && asksOrWatchesOn(one),
      );
      return isAsked ? [] : [`nobody is asked at the end: "${(entry as Said).text}"`];
    });
  },
};

/** After an alarm the watch begins anew. */
const asksOrWatchesOn = ({ ask, step }: Said): boolean => ask?.field === 'neck' || step === 'aftercare.watch-longer';

/** When the patient may go, as this text has it. */
function untilOf({ programme, of }: Walked, { at, text }: Said): number | null {
  const [, hour, minute] = /stays until (\d\d):(\d\d)/.exec(text) ?? [];
  if (hour === undefined) return null;
  const { zone } = siteOf(programme, of.siteId);
  const until = instantOf(localTime(at, zone), Number(hour) + Number(minute) / 60, zone);
  return until < at - 12 * 60 * minuteMs ? until + 24 * 60 * minuteMs : until;
}

/** An alarm, a patient who left, a case that ended: the watch ends otherwise. */
const isOther = (one: Entry, caseId: string): boolean =>
  one.kind === 'recorded' &&
  one.caseId === caseId &&
  ['sos-raised', 'aftercare-done', 'closed', 'frozen'].includes(one.record.event.type);
