import { describe, expect, it } from 'vitest';
import { readPolicy } from '../../src/clinical/completions.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { look } from './look.ts';

// Tessler FN, Middleton WD, Grant EG, et al. J Am Coll Radiol 2017;14:587-595: points, levels and sizes of its chart.
const chart: [string, number, number, string, string][] = [
  ['cyst wide smooth no-foci', 40, 0, 'TR1', 'no-sampling'],
  ['cyst wide smooth comet', 32, 0, 'TR1', 'no-sampling'],
  ['sponge iso wide smooth no-foci', 30, 0, 'TR1', 'no-sampling'],
  ['sponge hypo tall lobed tiny', 30, 0, 'TR1', 'no-sampling'],
  ['mixed iso wide smooth no-foci', 45, 2, 'TR2', 'no-sampling'],
  ['mixed hypo wide smooth no-foci', 24, 3, 'TR3', 'follow-up'],
  ['mixed hypo wide smooth no-foci', 25, 3, 'TR3', 'sample'],
  ['mixed hypo wide blurred no-foci', 14, 3, 'TR3', 'no-sampling'],
  ['solid iso wide smooth no-foci', 24.9, 3, 'TR3', 'follow-up'],
  ['solid iso wide smooth no-foci', 24.99, 3, 'TR3', 'follow-up'],
  ['solid iso wide smooth no-foci', 25, 3, 'TR3', 'sample'],
  ['solid iso wide smooth comet', 30, 3, 'TR3', 'sample'],
  ['solid hypo wide smooth no-foci', 15, 4, 'TR4', 'sample'],
  ['solid hypo wide smooth no-foci', 14, 4, 'TR4', 'follow-up'],
  ['solid hypo wide smooth no-foci', 9, 4, 'TR4', 'no-sampling'],
  ['solid iso wide smooth coarse', 15, 4, 'TR4', 'sample'],
  ['solid hypo wide smooth tiny', 10, 7, 'TR5', 'sample'],
  ['solid hypo wide smooth tiny', 9, 7, 'TR5', 'follow-up'],
  ['solid hypo wide smooth tiny', 4, 7, 'TR5', 'no-sampling'],
  ['solid vhypo tall breaks coarse rim tiny', 12, 17, 'TR5', 'sample'],
  ['mixed iso wide smooth coarse rim', 15, 5, 'TR4', 'sample'],
  ['mixed iso wide smooth coarse', 20, 3, 'TR3', 'follow-up'],
  ['solid vhypo wide smooth no-foci', 12, 5, 'TR4', 'follow-up'],
  ['solid hypo tall smooth no-foci', 10, 7, 'TR5', 'sample'],
  ['solid iso tall smooth no-foci', 16, 6, 'TR4', 'sample'],
  ['solid iso wide lobed no-foci', 13, 5, 'TR4', 'follow-up'],
  ['mixed hypo wide lobed no-foci', 15, 5, 'TR4', 'sample'],
  ['solid hypo wide breaks no-foci', 10, 7, 'TR5', 'sample'],
  ['solid iso wide smooth no-foci', 14.9, 3, 'TR3', 'no-sampling'],
  ['solid iso wide smooth no-foci', 15, 3, 'TR3', 'follow-up'],
  ['mixed vhypo tall breaks coarse rim tiny', 5, 16, 'TR5', 'follow-up'],
  ['solid iso wide smooth extruded', 15, 5, 'TR4', 'sample'],
  ['solid iso wide smooth rim extruded', 15, 5, 'TR4', 'sample'],
];

// Na DG, Paik W, Cha J, et al. Ultrasonography 2021;40:474-485, Fig. 4: two cases that the paper calls TR4.
const cases: [string, number, number, string, string][] = [
  ['solid iso wide smooth tiny', 14, 6, 'TR4', 'follow-up'],
  ['mixed hypo wide smooth tiny', 12, 6, 'TR4', 'follow-up'],
];

const read = (row: string, mm: number) => readPolicy('acr-2017', knownNodule(look(row, mm), 0));

describe('ACR TI-RADS 2017 as published', () => {
  it.each([...chart, ...cases])('%s, %d mm: %d points, %s, %s', (row, mm, points, level, decision) => {
    expect(read(row, mm)).toEqual({ decision, decisions: [decision], levels: [level], points: [points, points] });
  });

  it('adds up all foci and not only the worst of them', () => {
    expect(read('solid iso wide smooth coarse tiny', 12)).toMatchObject({ points: [7, 7], decision: 'sample' });
  });

  // The chart's values for what "cannot be judged" (echogenicity 1, margin 0) are the best case and were only
  // remembered; what a hidden nodule does not show is completed like anything else that is unknown.
  it.each([
    ['hidden wide coarse', 18, [4, 9], ['TR4', 'TR5'], ['sample']],
    ['hidden wide rim', 14, [5, 10], ['TR4', 'TR5'], ['follow-up', 'sample']],
  ])(
    'a nodule hidden by calcification counts as solid and keeps the rest open: %s, %d mm',
    (row, mm, points, levels, decisions) => {
      expect(read(row, mm)).toMatchObject({ points, levels, decisions });
    },
  );
});
