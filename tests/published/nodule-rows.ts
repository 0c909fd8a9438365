/*
 * Thirty nodules under the four policies. Expected: common practice, ACR (Tessler 2017), EU (Russ 2017), ATA (Haugen
 * 2016), worked out by hand from the tables named in the four policy files; then points, category and pattern.
 */
const N = 'no-sampling';
const F = 'follow-up';
const O = 'optional';
const S = 'sample';
const C = 'undetermined';
export const rows: readonly [string, number, string, string, string, string, number, string | null, string][] = [
  ['cyst', 40, N, N, N, N, 0, '2', 'benign'],
  ['sponge iso wide smooth no-foci', 25, N, N, N, O, 0, '2', 'very-low'],
  ['mostly-sponge iso wide smooth no-foci', 25, N, N, S, O, 0, '3', 'very-low'],
  ['mixed centred iso wide smooth no-foci', 30, C, N, S, O, 2, '3', 'very-low'],
  ['mixed eccentric iso wide smooth no-foci', 18, C, N, F, S, 2, '3', 'low'],
  ['mixed eccentric hypo wide smooth tiny', 12, C, F, S, S, 6, '5', 'high'],
  ['solid iso wide smooth no-foci', 8, F, N, F, F, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 11, S, N, F, F, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 15, S, F, F, S, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 20, S, F, F, S, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 24, S, F, S, S, 3, '3', 'low'],
  ['solid iso wide smooth no-foci', 25, S, S, S, S, 3, '3', 'low'],
  ['solid hypo wide smooth no-foci', 10, F, F, F, S, 4, '4', 'intermediate'],
  ['solid hypo wide smooth no-foci', 12, S, F, F, S, 4, '4', 'intermediate'],
  ['solid hypo wide smooth no-foci', 15, S, S, F, S, 4, '4', 'intermediate'],
  ['solid hypo wide smooth no-foci', 16, S, S, S, S, 4, '4', 'intermediate'],
  ['solid vhypo wide smooth no-foci', 12, S, F, S, S, 5, '5', 'intermediate'],
  ['solid iso wide smooth tiny', 14, S, F, S, C, 6, '5', 'unclassified'],
  ['solid hypo wide lobed tiny', 9, F, F, F, F, 9, '5', 'high'],
  ['solid hypo wide lobed tiny', 11, S, S, S, S, 9, '5', 'high'],
  ['solid hypo wide smooth tiny', 10, F, S, F, S, 7, '5', 'high'],
  ['solid iso tall smooth no-foci', 12, S, F, S, C, 6, '5', 'unclassified'],
  ['solid hypo wide breaks no-foci', 11, S, S, S, S, 7, '5', 'high'],
  // Hidden by a calcified shell: seen as bright and smooth where it shows at all.
  ['hidden iso wide smooth rim', 18, C, S, C, C, 5, null, 'unclassified'],
  ['solid iso wide smooth coarse', 16, S, S, F, S, 4, '3', 'low'],
  ['solid hypo tall lobed tiny', 4, F, N, F, F, 12, '5', 'high'],
  ['mixed centred hypo wide smooth no-foci', 22, C, F, S, O, 3, '4', 'very-low'],
];
