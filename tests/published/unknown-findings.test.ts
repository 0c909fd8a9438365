import { describe, expect, it } from 'vitest';
import { readPolicy } from '../../src/clinical/completions.ts';
import type { Nodule } from '../../src/clinical/findings.ts';
import { knownNodule } from '../../src/clinical/known.ts';
import { type PolicyId, policyIds } from '../../src/clinical/policies/policy.ts';
import { settlingFields } from '../../src/clinical/settling.ts';
import { look } from './look.ts';

/*
 * What the tables (Tessler 2017, Russ 2017, Haugen 2016, and the plain rule with NCCN 2017) still allow when features
 * are unknown; worked out by enumerating every completion. Outcomes: common practice, ACR, EU, ATA.
 */
const N = 'no-sampling';
const F = 'follow-up';
const O = 'optional';
const S = 'sample';
const C = 'undetermined';
interface Row {
  nodule: Nodule;
  points: [number, number];
  levels: string[];
  categories: string[];
  outcomes: [string[], string[], string[], string[]];
}
const all = ['TR1', 'TR2', 'TR3', 'TR4', 'TR5'];
const row = (
  nodule: Nodule,
  points: [number, number],
  levels: string[],
  categories: string[],
  ...outcomes: Row['outcomes']
): Row => ({ nodule, points, levels, categories, outcomes });

const rows: [string, Row][] = [
  [
    'solid, bright, wide, 30 mm, edge and foci unseen',
    row(look('solid iso wide', 30), [3, 12], all.slice(2), ['3', '5'], [S], [S], [S], [S]),
  ],
  [
    'solid 12 mm, darkness unseen',
    row(look('solid wide smooth no-foci', 12), [3, 5], ['TR3', 'TR4'], ['3', '4', '5'], [S], [N, F], [F, S], [F, S]),
  ],
  ['9 mm and nothing else', row({ mm: [9] }, [0, 17], all, ['2', '3', '4', '5'], [N, F, C], [N, F], [N, F], [N, F])],
  [
    '22 mm and nothing else',
    row({ mm: [22] }, [0, 17], all, ['2', '3', '4', '5'], [N, C, S], [N, F, S], [N, S], [N, O, S]),
  ],
  [
    'mixed dark 26 mm, foci unseen',
    row(look('mixed hypo wide smooth', 26), [3, 9], all.slice(2), ['4', '5'], [C], [S], [S], [O, S]),
  ],
  [
    'solid dark 10 mm, shape unseen',
    row(look('solid hypo smooth no-foci', 10), [4, 7], ['TR4', 'TR5'], ['4', '5'], [F], [F, S], [F], [S]),
  ],
  [
    'solid dark 16 mm, the rest unseen',
    row(look('solid hypo', 16), [4, 16], ['TR4', 'TR5'], ['4', '5'], [S], [S], [S], [S]),
  ],
  [
    'solid bright 18 mm, foci unseen',
    row(look('solid iso wide smooth', 18), [3, 9], all.slice(2), ['3', '5'], [S], [F, S], [F, S], [S]),
  ],
  [
    'sponge 28 mm, extent unseen',
    row(
      look('sponge-of-unknown-extent iso wide smooth no-foci', 28),
      [0, 0],
      ['TR1'],
      ['2', '3'],
      [N],
      [N],
      [N, S],
      [O],
    ),
  ],
  [
    'solid dark, 12 to 16 mm',
    row(
      { ...look('solid hypo wide smooth no-foci'), mmRange: [12, 16] },
      [4, 4],
      ['TR4'],
      ['4'],
      [S],
      [F, S],
      [F, S],
      [S],
    ),
  ],
  [
    'mixed bright 12 mm, foci unseen',
    row(look('mixed iso wide smooth', 12), [2, 8], all.slice(1), ['3', '5'], [C], [N, F, S], [F, S], [F, C]),
  ],
  [
    'solid 15 mm and nothing else',
    row(look('solid', 15), [3, 17], all.slice(2), ['3', '4', '5'], [S], [F, S], [F, S], [S]),
  ],
  ['solid 25 mm and nothing else', row(look('solid', 25), [3, 17], all.slice(2), ['3', '4', '5'], [S], [S], [S], [S])],
  [
    'mixed 21 mm and nothing else',
    row(look('mixed', 21), [2, 16], all.slice(1), ['3', '4', '5'], [C], [N, F, S], [S], [O, S]),
  ],
  [
    'solid dark tall 11 mm, edge and foci unseen',
    row(look('solid hypo tall', 11), [7, 16], ['TR5'], ['5'], [S], [S], [S], [S]),
  ],
  ['4 mm and nothing else', row({ mm: [4] }, [0, 17], all, ['2', '3', '4', '5'], [N, F, C], [N], [N, F], [N, F])],
  [
    'solid 12 mm and nothing else',
    row(look('solid', 12), [3, 17], all.slice(2), ['3', '4', '5'], [S], [N, F, S], [F, S], [F, C, S]),
  ],
];

describe('what unknown findings leave open', () => {
  it.each(rows)('%s', (_, { nodule, points, levels, categories, outcomes }) => {
    const known = knownNodule(nodule, 0);
    expect(readPolicy('acr-2017', known)).toMatchObject({ points, levels });
    expect(readPolicy('eu-2017', known).levels).toEqual(categories);
    expect(policyIds.map((id) => readPolicy(id, known).decisions)).toEqual(outcomes);
  });

  const questions: [string, PolicyId, Nodule, string | undefined][] = [
    ['solid dark 10 mm without its shape', 'acr-2017', look('solid hypo smooth no-foci', 10), 'shape'],
    ['solid dark 10 mm without its shape', 'eu-2017', look('solid hypo smooth no-foci', 10), undefined],
    ['solid dark 10 mm without its shape', 'ata-2015', look('solid hypo smooth no-foci', 10), undefined],
    ['22 mm and nothing else', 'acr-2017', { mm: [22] }, 'composition'],
    ['22 mm and nothing else', 'common-practice', { mm: [22] }, 'composition'],
    ['solid 12 mm, darkness unseen', 'eu-2017', look('solid wide smooth no-foci', 12), 'echogenicity'],
    ['solid 12 mm, darkness unseen', 'ata-2015', look('solid wide smooth no-foci', 12), 'echogenicity'],
    ['solid 18 mm and nothing else', 'acr-2017', look('solid', 18), 'echogenicity'],
    ['solid bright 18 mm, foci unseen', 'acr-2017', look('solid iso wide smooth', 18), 'foci'],
    ['solid bright 18 mm, foci unseen', 'eu-2017', look('solid iso wide smooth', 18), 'foci'],
    [
      'sponge 28 mm, extent unseen',
      'eu-2017',
      look('sponge-of-unknown-extent iso wide smooth no-foci', 28),
      'spongiformWhole',
    ],
    ['solid dark, 12 to 16 mm', 'acr-2017', { ...look('solid hypo wide smooth no-foci'), mmRange: [12, 16] }, 'mm'],
    ['solid 25 mm and nothing else', 'acr-2017', look('solid', 25), undefined],
    ['mixed 30 mm', 'common-practice', look('mixed', 30), 'solidPartMm'],
  ];
  it.each(questions)('%s: under %s the question that settles it best is found', (_, id, nodule, field) => {
    expect(settlingFields(id, knownNodule(nodule, 0))[0]).toBe(field);
  });
});

describe('what size and inside alone still allow', () => {
  const sponge = 'sponge-of-unknown-extent iso wide smooth no-foci';
  const table: [string, number[], string[], string[], string[], string[]][] = [
    ['cyst', [3, 10, 20, 60], [N], [N], [N], [N]],
    [sponge, [5, 10], [N], [N], [N, F], [N]],
    [sponge, [10.1, 19.9], [N], [N], [N, F], [F]],
    [sponge, [20], [N], [N], [N, F], [O]],
    [sponge, [20.1, 40], [N], [N], [N, S], [O]],
    ['mixed', [4.9], [C], [N], [F], [N, F]],
    ['mixed', [5, 9.9], [C], [N, F], [F], [N, F]],
    ['mixed', [10], [C], [N, F, S], [F], [N, F, C, S]],
    ['mixed', [10.1, 14.9], [C], [N, F, S], [F, S], [F, C, S]],
    ['mixed', [15, 19.9], [C], [N, F, S], [F, S], [F, S]],
    ['mixed', [20], [C], [N, F, S], [F, S], [O, S]],
    ['mixed', [20.1, 24.9], [C], [N, F, S], [S], [O, S]],
    ['mixed', [25, 60], [C], [N, S], [S], [O, S]],
    ['solid', [4.9], [F], [N], [F], [F]],
    ['solid', [5, 9.9], [F], [N, F], [F], [F]],
    ['solid', [10], [F], [N, F, S], [F], [F, C, S]],
    ['solid', [10.1, 14.9], [S], [N, F, S], [F, S], [F, C, S]],
    ['solid', [15, 20], [S], [F, S], [F, S], [S]],
    ['solid', [20.1, 24.9], [S], [F, S], [S], [S]],
    ['solid', [25, 60], [S], [S], [S], [S]],
  ];
  it.each(table)('%s, %j mm', (words, sizes, ...outcomes) => {
    for (const mm of sizes) {
      const known = knownNodule(look(words, mm), 0);
      expect(
        policyIds.map((id) => readPolicy(id, known).decisions),
        `${mm} mm`,
      ).toEqual(outcomes);
    }
  });

  it('any size at all is tried where none was measured', () => {
    expect(readPolicy('eu-2017', knownNodule(look('solid hypo wide smooth no-foci'), 0)).decisions).toEqual([F, S]);
    expect(readPolicy('eu-2017', knownNodule(look('cyst'), 0)).decisions).toEqual([N]);
  });
});

// NCCN Guidelines for Patients, Thyroid cancer 1.2017, Guide 4: mixed nodules by the size of their solid part.
describe('the plain rule extended to mixed nodules', () => {
  it.each([
    [11, 'tiny', S],
    [10, 'tiny', F],
    [16, 'no-foci', S],
    [15, 'no-foci', F],
    [15.1, 'no-foci', S],
    [10.1, 'tiny', S],
  ])('a solid part of %d mm, %s: %s', (solidPartMm, foci, decision) => {
    const nodule = { ...look(`mixed hypo wide smooth ${foci}`, 30), solidPartMm };
    expect(readPolicy('common-practice', knownNodule(nodule, 0)).decision).toBe(decision);
  });
});
