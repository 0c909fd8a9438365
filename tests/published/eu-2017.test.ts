import { describe, expect, it } from 'vitest';
import { readPolicy } from '../../src/clinical/completions.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { look } from './look.ts';

// Russ G, Bonnema SJ, Erdogan MF, et al. Eur Thyroid J 2017;6:225-237: categories, sizes "greater than".
const table: [string, number, string, string][] = [
  ['cyst wide smooth no-foci', 45, '2', 'no-sampling'],
  ['sponge iso wide smooth no-foci', 30, '2', 'no-sampling'],
  ['mostly-sponge iso wide smooth no-foci', 22, '3', 'sample'],
  ['solid iso wide smooth no-foci', 20, '3', 'follow-up'],
  ['solid iso wide smooth no-foci', 20.01, '3', 'sample'],
  ['solid iso wide smooth no-foci', 21, '3', 'sample'],
  ['solid hypo wide smooth no-foci', 15, '4', 'follow-up'],
  ['solid hypo wide smooth no-foci', 16, '4', 'sample'],
  ['solid vhypo wide smooth no-foci', 10, '5', 'follow-up'],
  ['solid vhypo wide smooth no-foci', 11, '5', 'sample'],
  ['solid iso tall smooth no-foci', 11, '5', 'sample'],
  ['mixed iso wide smooth no-foci', 25, '3', 'sample'],
  ['mixed iso wide smooth no-foci', 20, '3', 'follow-up'],
  ['solid iso wide smooth coarse', 18, '3', 'follow-up'],
  ['solid hypo wide jagged no-foci', 9, '5', 'follow-up'],
  ['solid hypo wide smooth coarse rim', 12, '4', 'follow-up'],
  ['solid iso wide smooth extruded', 18, '3', 'follow-up'],
  ['solid iso wide breaks no-foci', 11, '5', 'sample'],
  ['solid iso wide blurred no-foci', 18, '3', 'follow-up'],
];

// Na DG, et al. Ultrasonography 2021;40:474-485, Fig. 4: two cases that the paper puts into category 5.
const cases: [string, number, string, string][] = [
  ['solid iso wide smooth tiny', 14, '5', 'sample'],
  ['mixed hypo wide smooth tiny', 12, '5', 'sample'],
];

// Solymosi T. Teaching atlas, thyrosite.com, EU-TIRADS 4: mostly bright with a smaller dark part.
const atlas: [string, number, string, string][] = [
  ['solid iso-with-dark-part wide smooth no-foci', 16, '4', 'sample'],
  ['mostly-sponge iso-with-dark-part wide smooth no-foci', 16, '4', 'sample'],
];

describe('EU-TIRADS 2017 as published', () => {
  it.each([...table, ...cases, ...atlas])('%s, %d mm: category %s, %s', (row, mm, level, decision) => {
    expect(readPolicy('eu-2017', knownNodule(look(row, mm), 0))).toEqual({
      decision,
      decisions: [decision],
      levels: [level],
    });
  });

  it('has no category for a nodule hidden by calcification', () => {
    expect(readPolicy('eu-2017', knownNodule(look('hidden wide rim', 18), 0))).toEqual({
      decision: 'undetermined',
      decisions: ['undetermined'],
      levels: [],
    });
  });
});
