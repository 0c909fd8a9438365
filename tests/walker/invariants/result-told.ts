import type { SpecimenEnd } from '../../../src/case/events.ts';
import { type Invariant, recordsOf } from './invariant.ts';

/** Ends that say that the patient knows the result. */
const ofToldPatients: ReadonlySet<SpecimenEnd> = new Set(['attended', 'reviewed', 'repeat-declined', 'refused']);

/** The patient hears of the result that counts: what was said of the one before tells nothing of it. */
export const resultTold: Invariant = {
  name: 'no result ends before the patient was told of it, and not of an earlier one',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ record: { event }, after }, index, all) => {
      if (event.type !== 'specimen-closed' || after.practice || !ofToldPatients.has(event.end)) return [];
      const before = all.slice(0, index).map(({ record }) => record.event);
      const filed = before.findLastIndex((one) => one.type === 'result-filed' && one.specimen === event.specimen);
      if (filed < 0) return [];
      const isTold = before.slice(filed).some((one) => one.type === 'told' && one.specimen === event.specimen);
      return isTold ? [] : [`${event.specimen} ends as ${event.end}, and the patient was not told of its last result`];
    }),
};
