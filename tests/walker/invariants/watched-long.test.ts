import { expect, it } from 'vitest';
import type { CaseEvent } from '../../../src/case/events.ts';
import { codeIssued, madeUp, opened } from './made-up.ts';
import { watchedLong } from './watched-long.ts';

const attempt = (number: number, outcome: 'blood' | 'material'): CaseEvent => ({
  ...{ type: 'attempted', specimen: 's1', attempt: number, outcome },
});
const fixed: CaseEvent = {
  type: 'slides-fixed',
  specimen: 's1',
  fixative: 'alcohol',
  slides: ['wet-at-once', 'wet-at-once'],
};
const stays = (clock: string) => ({ kind: 'said', text: `AK: the patient stays until ${clock}.` }) as const;
// The transcript begins at 10:00 in the clinic's zone, a line a minute: the slides are fixed at 10:05.
const needle = (...outcomes: readonly ('blood' | 'material')[]) => [
  opened,
  codeIssued(),
  ...outcomes.map((one, index) => attempt(index + 1, one)),
  fixed,
];

it('half an hour after blood in any pass is a breach', () => {
  expect(watchedLong.broken(madeUp([...needle('blood', 'material'), stays('10:35')]))).toEqual([
    '30 min after blood: "AK: the patient stays until 10:35."',
  ]);
});

it('an hour is none, nor half an hour after two clean passes', () => {
  expect(watchedLong.broken(madeUp([...needle('blood', 'material'), stays('11:05')]))).toEqual([]);
  expect(watchedLong.broken(madeUp([...needle('material', 'material'), stays('10:35')]))).toEqual([]);
});
