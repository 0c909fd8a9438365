import type { Recorded } from '../transcript.ts';
import { type Invariant, recordsOf } from './invariant.ts';

/** Decisions under which the worker agrees to the needle with nobody but the patient. */
const advised: ReadonlySet<string> = new Set(['sample', 'optional']);
const yes: ReadonlySet<string> = new Set(['sample', 'drain']);

/** A needle is advised by what was found, or a doctor has agreed to it: a day that was named for it is no yes. */
export const needleAgreed: Invariant = {
  name: 'no needle that the decision leaves to a doctor, before one has agreed to it',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ record: { event }, after }, index, all) => {
      if (event.type !== 'code-issued' || after.practice) return [];
      const before = all.slice(0, index);
      const last = before.findLast(({ record }) => record.event.type === 'decided');
      if (isAdvised(last) || before.some(isYes)) return [];
      return [`${event.specimen} under ${after.decided?.decision}, and no doctor has agreed`];
    }),
};

function isAdvised(decided: Recorded | undefined): boolean {
  const event = decided?.record.event;
  if (event?.type !== 'decided') return false;
  const { sampleToo } = event.assessment as { readonly sampleToo?: string | null };
  return advised.has(event.decision) || sampleToo === 'yes';
}

const isYes = ({ record: { event } }: Recorded): boolean => event.type === 'doctor-answered' && yes.has(event.answer);
