import { describe, expect, it } from 'vitest';
import { readPolicy } from '../../src/clinical/completions.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { look } from './look.ts';

// Haugen BR, Alexander EK, Bible KC, et al. Thyroid 2016;26:1-133, Table 6: patterns, sizes "greater than or equal".
const table: [string, number, string, string][] = [
  ['cyst wide smooth no-foci', 50, 'benign', 'no-sampling'],
  ['sponge iso wide smooth no-foci', 25, 'very-low', 'optional'],
  ['sponge iso wide smooth no-foci', 20, 'very-low', 'optional'],
  ['sponge iso wide smooth no-foci', 15, 'very-low', 'follow-up'],
  ['sponge iso wide smooth no-foci', 9, 'very-low', 'no-sampling'],
  ['mixed centred iso wide smooth no-foci', 22, 'very-low', 'optional'],
  ['mixed eccentric iso wide smooth no-foci', 15, 'low', 'sample'],
  ['mixed eccentric hypo wide smooth no-foci', 14, 'low', 'follow-up'],
  ['solid iso wide smooth no-foci', 14, 'low', 'follow-up'],
  ['solid iso wide smooth no-foci', 15, 'low', 'sample'],
  ['solid hypo wide smooth no-foci', 9, 'intermediate', 'follow-up'],
  ['solid hypo wide smooth no-foci', 10, 'intermediate', 'sample'],
  ['solid hypo wide smooth tiny', 9, 'high', 'follow-up'],
  ['solid hypo wide smooth tiny', 10, 'high', 'sample'],
  ['solid hypo wide jagged no-foci', 11, 'high', 'sample'],
  ['solid hypo wide smooth extruded', 11, 'high', 'sample'],
  ['solid hypo wide smooth rim', 11, 'intermediate', 'sample'],
  ['solid hypo wide smooth coarse', 12, 'intermediate', 'sample'],
  ['solid hypo wide breaks no-foci', 10, 'high', 'sample'],
  ['mixed centred hypo tall smooth no-foci', 10, 'high', 'sample'],
];

// Na DG, et al. Ultrasonography 2021;40:474-485, Fig. 4; what an unclassified nodule comes to is our convention.
const cases: [string, number, string, string][] = [
  ['mixed eccentric hypo wide smooth tiny', 12, 'high', 'sample'],
  ['solid iso wide smooth tiny', 14, 'unclassified', 'undetermined'],
  ['solid iso tall smooth no-foci', 20, 'unclassified', 'sample'],
  ['solid iso tall smooth no-foci', 15, 'unclassified', 'sample'],
  ['solid iso tall smooth no-foci', 9.9, 'unclassified', 'follow-up'],
  ['hidden wide rim', 18, 'unclassified', 'undetermined'],
];

describe('ATA 2015 as published', () => {
  it.each([...table, ...cases])('%s, %d mm: %s, %s', (row, mm, level, decision) => {
    expect(readPolicy('ata-2015', knownNodule(look(row, mm), 0))).toEqual({
      decision,
      decisions: [decision],
      levels: [level],
    });
  });
});
