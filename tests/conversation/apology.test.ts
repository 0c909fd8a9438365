import { expect, it } from 'vitest';
import { loadContent } from '../../src/content/load.ts';
import { withoutApology } from '../../src/conversation/matters/result-words.ts';

const { texts } = loadContent();

it.each([
  ['Thy3a sorry mistake', 'Thy3a'],
  ['sorry, correction: Thy3a', 'Thy3a'],
  ['Thy4 papillary. My mistake!', 'Thy4 papillary.'],
  ['Thy2 sorry, wrong patient', 'Thy2 sorry, wrong patient'],
  ['Thy1 sampling mistake', 'Thy1 sampling mistake'],
  ['Thy2 no correction needed', 'Thy2 no correction needed'],
  ['sorry', ''],
])('a laboratory that writes "%s" reports "%s"', (sent, reported) => {
  expect(withoutApology(texts, 'en', sent)).toBe(reported);
});
