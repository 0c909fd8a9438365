import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { fluidHeeded } from './fluid-heeded.ts';
import { codeIssued, madeUp, nodeCodeIssued, opened } from './made-up.ts';

const fluid = (look: 'red' | 'brown' | 'yellow'): CaseEvent => ({
  ...{ type: 'fluid', specimen: 's1', attempt: 1, ml: 4, look, kept: 'plain' },
});
/** Said with the record, as one text causes both. */
const says = (step: string) => [-1 / 60, { kind: 'said', step } as const] as const;

it('a red fluid without a stop, and a stop for a yellow one, are breaches', () => {
  expect(fluidHeeded.broken(madeUp([opened, codeIssued(), fluid('red')]))).toHaveLength(1);
  const walked = madeUp([opened, codeIssued(), fluid('yellow'), ...says('sampling.fluid-red')]);
  expect(fluidHeeded.broken(walked)).toEqual(['yellow fluid, and sampling.fluid-red is said']);
});

it('brown is a concern at the side of the neck alone', () => {
  expect(fluidHeeded.broken(madeUp([opened, codeIssued(), fluid('brown')]))).toEqual([]);
  expect(fluidHeeded.broken(madeUp([opened, nodeCodeIssued, fluid('brown')]))).toHaveLength(1);
  const walked = madeUp([opened, nodeCodeIssued, fluid('brown'), ...says('sampling.fluid-brown')]);
  expect(fluidHeeded.broken(walked)).toEqual([]);
});
