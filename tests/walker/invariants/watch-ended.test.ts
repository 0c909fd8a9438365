import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { asks, codeIssued, decided, madeUp, opened } from './made-up.ts';
import { watchEnded } from './watch-ended.ts';

const taken: readonly CaseEvent[] = [
  { type: 'code-checked', specimen: 's1' },
  { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'material' },
  { type: 'slides-fixed', specimen: 's1', fixative: 'alcohol', slides: ['wet-at-once'] },
];
const labelled: CaseEvent = { type: 'labelled', specimen: 's1' };
/** It is shortly after 10 at the clinic. */
const stays = { kind: 'said', text: 'AK: the patient stays until 10:40. Look at the neck' } as const;
const neck = { kind: 'said', ask: asks('neck') } as const;
const longer = { kind: 'said', step: 'aftercare.watch-longer' } as const;
const begun = [opened, decided('sample'), codeIssued(), ...taken, stays, labelled];

it('a watch whose end nobody is asked about is a breach', () => {
  expect(watchEnded.broken(madeUp([...begun, 3, labelled]))).toHaveLength(1);
});

it('one that is asked about, one that begins anew, one without a label yet and one in an alarm are none', () => {
  expect(watchEnded.broken(madeUp([...begun, 0.5, neck, 3, labelled]))).toEqual([]);
  expect(watchEnded.broken(madeUp([...begun, 0.5, longer, 3, labelled]))).toEqual([]);
  expect(watchEnded.broken(madeUp([opened, decided('sample'), codeIssued(), ...taken, stays, 3, labelled]))).toEqual(
    [],
  );
  const alarm: CaseEvent = { type: 'sos-raised', sign: 'swelling' };
  expect(watchEnded.broken(madeUp([...begun, alarm, 3, labelled]))).toEqual([]);
});
