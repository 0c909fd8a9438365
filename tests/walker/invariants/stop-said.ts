import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

/** What a known stop may come to: nobody is sent back for steps that cannot change it. */
const asksForSteps = new Set(['examine-first', 'sample', 'optional', 'sample-elsewhere']);

/** A hot nodule, a bleeding disorder or too few platelets are said as the reason, whatever else was not done. */
export const stopSaid: Invariant = {
  name: 'a known stop is said as such, and no step that cannot change it is asked for',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ record, after }) => {
      const { event } = record;
      if (event.type !== 'decided' || !asksForSteps.has(event.decision)) return [];
      const { bleeding, platelets, scan } = after.answers;
      const stops = [
        scan === 'hot' ? 'a hot nodule' : '',
        Array.isArray(bleeding) && bleeding.includes('bleeding-disorder') ? 'a bleeding disorder' : '',
        typeof platelets === 'number' && platelets < 20 ? 'too few platelets' : '',
      ];
      return stops.filter((one) => one !== '').map((one) => `${event.decision} in spite of ${one}`);
    }),
};
