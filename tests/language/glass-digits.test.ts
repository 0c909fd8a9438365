/**
 * What is pencilled on glass is read in a laboratory that may read no Arabic, and a phone may draw 4829 as ٤٨٢٩: on glass ٥ looks
 * like 0, ٠ like a dot and ٦ like 7 (from memory; that software redraws digits by their surroundings: angular-numericShaping).
 */
import { describe, expect, it } from 'vitest';
import { packageRoot } from '../../src/content/load.ts';
import { localeSources } from '../../src/content/locale-sources.ts';
import { numbersOf } from '../../src/content/same-content.ts';
import { parsed } from '../../src/review/entry.ts';
import { compileTemplate } from '../../src/text/render.ts';
import { screensOf } from '../../src/text/screens.ts';
import { countSegments } from '../../src/text/segments.ts';
import { drawn } from '../support/drawn.ts';
import { shipped } from '../support/shipped.ts';

const { texts } = shipped;
const values: Readonly<Record<string, string>> = {
  tag: 'AKO48',
  code: '4829 1354',
  slidesPlanned: '4',
  slideNumbers: '1/4 إلى 4/4',
  lumpShort: 'R 22mm',
};
const said = (key: 'ready.pencil' | 'words.ready-pencil', voice: 'plain' | 'brief' = 'plain'): string =>
  texts.render('ar', key, (name) => values[name] ?? '', voice);
const cards = parsed(localeSources(packageRoot, 'ar').get('cards')!) as Readonly<Record<string, string>>;

it('all digits in their order name the digits, and are no number that English lacks', () => {
  expect(numbersOf(compileTemplate('0123456789, ٠١٢٣٤٥٦٧٨٩: 4'))).toBe('4');
  expect(numbersOf(compileTemplate('0123456788: 4'))).toBe('0123456788 4');
});

describe('in Arabic, what is pencilled on glass', () => {
  it.each([
    ['the question', said('ready.pencil')],
    ['the question in other words', said('words.ready-pencil')],
    ['the card', cards.pencil!],
    ['the card in brief words', cards.pencil_brief!],
  ])('is written with 0 to 9 and not with ٠ to ٩: %s says so in digits and in words', (_where, text) => {
    expect(text).toContain('0123456789');
    expect(text).toMatch(/وليس ٠١٢٣٤٥٦٧٨٩/u);
    expect(text).toContain('الإنجليزية');
  });

  it('the code stands on a line of its own, which no phone turns round, of the first screen', () => {
    const [screen = '', ...others] = screensOf(said('ready.pencil')).map((one) => texts.asDrawn('ar', one));
    for (const base of ['rtl', 'ltr', undefined] as const)
      expect(drawn(screen, base).split('\n')).toContain('4829.1354');
    expect(others.join(' ')).not.toContain('4829');
    for (const one of [screen, ...others]) expect(countSegments(one).segments).toBeLessThanOrEqual(2);
  });
});
