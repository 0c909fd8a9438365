import { targetFacts } from '../transcript.ts';
import { type Invariant, recordsOf, saidOf } from './invariant.ts';

/** A text that was sent twice is answered a little later. */
const atOnceMs = 60_000;

/** What the line does about the look of a fluid, by the look. */
const heeded: Readonly<Record<string, string>> = {
  red: 'sampling.fluid-red',
  clear: 'sampling.fluid-clear',
  pus: 'sampling.fluid-pus',
  brown: 'sampling.fluid-brown',
};

/** Each fluid is taken as it looks, the second one too: red stops, clear and pus are a doctor's, brown at the side of the neck is. */
export const fluidHeeded: Invariant = {
  name: 'what is done about a fluid follows from its own look',
  broken: (walked) => {
    const said = saidOf(walked);
    return recordsOf(walked).flatMap(({ record: { event }, at, after }) => {
      if (event.type !== 'fluid') return [];
      const specimen = after.specimens.find(({ id }) => id === event.specimen)!;
      const here = said.filter((one) => one.at >= at && one.at < at + atOnceMs).map(({ step }) => step);
      const isLateral = targetFacts(after, specimen).kind === 'node';
      return Object.entries(heeded).flatMap(([look, step]) => {
        const isIt = event.look === look && (look !== 'brown' || isLateral);
        const isSaid = here.some((one) => one.endsWith(step));
        return isIt === isSaid ? [] : [`${event.look} fluid, and ${step} is ${isSaid ? 'said' : 'not said'}`];
      });
    });
  },
};
