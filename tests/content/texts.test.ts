import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { loadContent, packageRoot } from '../../src/content/load.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { screensOf } from '../../src/text/screens.ts';
import { inSwahili, packageWith, problemsOf, spoilt, watchTexts } from './package-fixture.ts';

const swahili = watchTexts
  .replace('Press until {time}.', 'Bonyeza hadi {time}.')
  .replace('well|fine', 'sawa|nzuri')
  .replace('"neck": "{tag}: neck? 1 well 2 changed 9 cannot tell",\n', '');
const texts = () => loadContent(packageWith(inSwahili(swahili))).texts;
const values = (name: string) => ({ time: '10:42', tag: 'AK', count: '3' })[name] ?? '?';

/** A text of the fixture, which the package does not have. */
const key = (name: string) => name as TextKey;

describe('texts', () => {
  it('are rendered in the language asked for', () => {
    expect(texts().render('sw', key('watch.press-words'), values)).toBe('Bonyeza hadi 10:42.');
    expect(texts().render('en', key('watch.press-words'), values)).toBe('Press until 10:42.');
  });

  it('are loaded in the languages that the programme names, and in English', () => {
    const programme = readFileSync(join(packageRoot, 'flows/programme.yaml'), 'utf8');
    const naming = (languages: string) => {
      const own = spoilt(programme, 'languages: all', `languages: ${languages}`);
      const files = { ...inSwahili(swahili), 'locales/rw/meta.json': '{}', 'flows/programme.yaml': own };
      const { texts, problems } = loadContent(packageWith(files));
      return {
        tags: texts.languages.map(({ tag }) => tag),
        problems: problems.filter(({ path }) => path === 'languages').map(({ what }) => what),
      };
    };
    expect(naming('all').tags).toEqual(['en', 'rw', 'sw']);
    expect(naming('[en]')).toEqual({ tags: ['en'], problems: [] });
    expect(naming('[sw]')).toEqual({ tags: ['en', 'sw'], problems: [] });
    expect(naming('[sw-KE]')).toEqual({ tags: ['en', 'sw'], problems: ['there is no language sw-KE'] });
  });

  it.each(['sw', 'fr', 'xx-YY'])('are English where %s lacks them', (tag) => {
    expect(texts().render(tag, key('watch.neck'), values)).toBe('AK: neck? 1 well 2 changed 9 cannot tell');
  });

  it('follow the language of a region', () => {
    expect(texts().render('sw-KE', key('watch.press-words'), values)).toBe('Bonyeza hadi 10:42.');
  });

  it("never expand what stands in somebody's words", () => {
    const sly = (name: string) => (name === 'time' ? '{tag} $t(watch.neck) {{tag}}' : 'AK');
    expect(texts().render('en', key('watch.press-words'), sly)).toBe('Press until {tag} $t(watch.neck) {{tag}}.');
  });

  it('throw on a key that nobody wrote, which the checker finds first', () => {
    expect(() => texts().render('en', key('watch.nothing'), values)).toThrow('no text watch.nothing');
    expect(texts().has('watch.nothing')).toBe(false);
    expect(texts().has('watch.neck')).toBe(true);
  });

  it('choose the plural form by the count', () => {
    const plural = '{ "slides_one": "{count} slide", "slides_other": "{count} slides" }';
    const of = loadContent(packageWith({ 'locales/en/parcel.json': plural })).texts;
    expect(of.has('parcel.slides')).toBe(true);
    expect(of.render('en', key('parcel.slides'), () => '1')).toBe('1 slide');
    expect(of.render('en', key('parcel.slides'), () => '4')).toBe('4 slides');
  });

  it('may be several screens, none of them longer than one', () => {
    const screens = `["${'x'.repeat(140)} {time}", "${'y'.repeat(150)}"]`;
    const files = { 'locales/en/watch.json': watchTexts.replace('"Press until {time}."', screens) };
    expect(problemsOf(files)).toEqual([]);
    const of = loadContent(packageWith(files)).texts;
    expect(screensOf(of.render('en', key('watch.press-words'), values))).toEqual([
      `${'x'.repeat(140)} 10:42`,
      'y'.repeat(150),
    ]);
  });

  it('need every plural form of their language', () => {
    const lines = problemsOf({ 'locales/en/parcel.json': '{ "slides_other": "{count} slides" }' });
    expect(lines).toEqual(['locales/en/parcel.json:1  slides_other  lacks the plural form one  add slides_one']);
  });
});

describe('words', () => {
  it('of an option are its own language, English, what holds for any field, and its id', () => {
    expect(texts().words('sw', 'neck', 'well')).toEqual(['sawa', 'nzuri', 'well', 'fine']);
    expect(texts().words('sw', 'neck', 'unknown')).toEqual(['sijui', 'cannot tell', 'unknown']);
    expect(texts().words('en', 'no-such-field', 'Très-Grand')).toEqual(['tres-grand']);
  });

  it('begin with the label', () => {
    expect(texts().label('sw', 'neck', 'well')).toBe('sawa');
    expect(texts().label('sw', 'other-field', 'unknown')).toBe('sijui');
    expect(texts().label('en', 'neck', 'no-label')).toBe('no-label');
  });

  it.each([
    ['en', 'new', 'NEW'],
    ['en', 'NEW', 'NEW'],
    ['sw', 'Sos', 'SOS'],
    ['en', '?', 'HELP'],
    ['en', '*', 'BACK'],
    ['en', 'b', 'BACK'],
    ['en', 'b.', 'BACK'],
    ['en', 'New!', 'NEW'],
    ['en', 'neck', null],
  ])('in %s: %s is the keyword %s', (locale, word, keyword) => {
    expect(texts().keyword(locale, word)).toBe(keyword);
  });

  it('of months are twelve', () => {
    expect(texts().months('sw')).toHaveLength(12);
    expect(texts().months('xx')[2]).toBe('MAR');
  });
});
