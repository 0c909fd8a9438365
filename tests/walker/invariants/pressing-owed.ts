import type { Recorded, Said } from '../transcript.ts';
import { type Invariant, recordsOf, saidOf } from './invariant.ts';

const hourMs = 3_600_000;
/** A Thy4 or Thy5, an L4 or L5 is owed within a day, and what is due at night is told in the morning after: the longest silence. */
const longestMs = 48 * hourMs;
const pressing = /^(Thy[45]|L[45])$/;
const ends: ReadonlySet<string> = new Set([
  ...['told', 'appointed', 'specimen-closed', 'closed', 'result-filed', 'rejected', 'frozen'],
]);

/** A pressing result of one jar is owed from the day it came, wherever the other jar is. */
export const pressingOwed: Invariant = {
  name: 'a pressing result that nobody has acted on is owed within a day, whatever another jar waits for',
  broken: (walked) => {
    const said = saidOf(walked).filter(isOfResult);
    return recordsOf(walked).flatMap(({ record: { event }, at, after }, index, all) => {
      if (event.type !== 'result-filed' || after.practice || !pressing.test(event.result.canonical)) return [];
      const until = all.slice(index + 1).find((one) => isOver(one, event.specimen))?.at ?? walked.endedAt;
      const times = [at, ...said.map((one) => one.at).filter((one) => one > at && one < until), until];
      const longest = Math.max(...times.slice(1).map((one, which) => one - times[which]!));
      if (longest < longestMs) return [];
      return [`${event.result.canonical} of ${event.specimen}: ${Math.round(longest / hourMs)} h, and nothing is said`];
    });
  },
};

/** To the clinic, or to a doctor who is to do something. */
const isOfResult = ({ flow, step, role, ask }: Said): boolean =>
  flow === 'action' || step.startsWith('duty.action') || (role === 'doctor' && ask !== null);

const isOver = ({ record: { event } }: Recorded, specimen: string): boolean =>
  ends.has(event.type) && (!('specimen' in event) || event.specimen === specimen);
