import { describe, expect, it } from 'vitest';
import { howRead, howReadLine } from '../../src/cli/how-read.ts';
import { readerOf, textsHash, unreadLine } from '../../src/cli/readers.ts';
import { standingOf, unsignedOf } from '../../src/cli/ready/to-sign.ts';
import { packageRoot } from '../../src/content/load.ts';
import { readMeta } from '../../src/content/locale-file.ts';
import type { Locale } from '../../src/content/texts.ts';
import { shipped } from '../support/shipped.ts';

const english = shipped.sources.locales.find(({ tag }) => tag === 'en')!;
const readBy = { reviewedBy: 'Mila Oru, nurse', reviewedOn: '2030-01-05' };
/** English as somebody read it. */
const read: Locale = { ...english, meta: { ...english.meta!, ...readBy, reviewedTexts: textsHash(english) } };
const [first, ...others] = read.files;
/** One text of it is another one since. */
const changed: Locale = {
  ...read,
  files: [
    { ...first!, texts: new Map([...first!.texts].map(([key, text], at) => [key, at === 0 ? `${text}!` : text])) },
    ...others,
  ],
};
const lineOf = (locale: Locale): string => howReadLine(howRead(locale, packageRoot));
const contentOf = (locale: Locale) => ({ ...shipped, sources: { ...shipped.sources, locales: [locale] } });
const standingIn = (locale: Locale) => standingOf(contentOf(locale), []).find(({ id }) => id === 'languages.en')!;

describe('a reading of a language', () => {
  it('stands for the texts that were read', () => {
    expect(readerOf(read)).toEqual({ name: 'Mila Oru, nurse', on: '2030-01-05', stands: true });
    expect(lineOf(read)).toBe('en: read by a nurse: Mila Oru, nurse, 2030-01-05');
    expect(unreadLine([read])).toBe('');
    expect(standingIn(read).signed).toEqual({ who: 'Mila Oru, nurse', at: Date.UTC(2030, 0, 5) });
  });

  it('lapses with the first text that is changed, and that is said wherever it was said', () => {
    expect(readerOf(changed)?.stands).toBe(false);
    expect(lineOf(changed)).toBe(
      `en: read by a nurse: none yet as they are now: Mila Oru, nurse read others on 2030-01-05 (these are reviewedTexts ${textsHash(changed)})`,
    );
    expect(unreadLine([changed])).toBe('Read by a nurse: none yet (en)\n');
    expect(standingIn(changed)).toMatchObject({ signed: null, lapsed: { who: 'Mila Oru, nurse' } });
    expect(unsignedOf(contentOf(changed), { signatures: [], roster: [] }).languages).toEqual(['English']);
  });

  it('of nobody is none', () => {
    expect(readerOf(english)).toBeNull();
    expect(unreadLine(shipped.sources.locales)).toContain('none yet (');
  });
});

describe('meta.json', () => {
  const months = Array(12).fill('M');
  const problems = (fields: Readonly<Record<string, string>>): readonly string[] =>
    readMeta('locales/en/meta.json', JSON.stringify({ name: 'English', months, ...fields })).problems.map(
      ({ path, what, todo }) => `${path}: ${what}: ${todo}`,
    );

  it.each([
    [{ reviewedBy: 'Mila Oru', reviewedOn: '' }, 'reviewedOn: is empty: say on which day Mila Oru read it'],
    [{ reviewedBy: '', reviewedOn: '2030-01-05' }, 'reviewedBy: is empty: say who read it on 2030-01-05'],
    [{ reviewedBy: ' ', reviewedOn: '2030-01-05' }, 'reviewedBy: is empty: say who read it on 2030-01-05'],
    [
      { reviewedBy: 'Mila Oru', reviewedOn: '2030-02-30' },
      'reviewedOn: there is no 2030-02-30: give a day that there is',
    ],
    [
      { reviewedBy: 'Mila Oru', reviewedOn: '5 JAN 2030' },
      'reviewedOn: is not written as expected: a date as 2030-03-04, or empty',
    ],
  ])('with %j is refused', (fields, problem) => {
    expect(problems(fields)).toEqual([problem]);
  });

  it('is sound with a name and a day, and with neither', () => {
    expect(problems(readBy)).toEqual([]);
    expect(problems({ reviewedBy: '', reviewedOn: '' })).toEqual([]);
  });
});
