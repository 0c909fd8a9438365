import { targetFacts, type Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

/** No side but one on which the patient has a lump, or the node: never one that nobody said. */
export const sideAsSaid: Invariant = {
  name: 'the side of a specimen is one that was felt or measured',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ record, after }) => {
      const { event } = record;
      if (event.type !== 'code-issued') return [];
      const specimen = after.specimens.find(({ id }) => id === event.specimen)!;
      const { kind, side } = targetFacts(after, specimen);
      const real = kind === 'node' ? nodeSides(walked) : lumpSides(walked);
      // Who has no lump that anybody knows of is asked, and answers with any side.
      if (side === null || real.length === 0 || real.some((one) => one === side)) return [];
      return [`${event.specimen} ${kind} ${side}, the patient's are ${real.join(', ')}`];
    }),
};

/** A side that was first said wrongly was said, too. */
const lumpSides = ({ truth: { lumps, mistaken } }: Walked): readonly string[] =>
  [...lumps, ...(mistaken ?? [])].map(({ side }) => side);

const nodeSides = ({ truth }: Walked): readonly string[] => (truth.node ? [truth.node.side] : []);
