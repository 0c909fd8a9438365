import { describe, expect, it } from 'vitest';
import { inSwahili, problemsOf, spoilt, watchRegistry, watchTexts } from './package-fixture.ts';

const english = (piece: string, by: string) =>
  problemsOf({ 'locales/en/watch.json': spoilt(watchTexts, piece, by) }, { ...watchRegistry, textKeys: [] });

const swahiliTexts = watchTexts
  .replace('Press until {time}.', 'Bonyeza hadi {time}.')
  .replace('well|fine', 'sawa')
  .replace('changed|swollen', 'imebadilika');

describe('English texts', () => {
  const long = 'x'.repeat(153);

  it.each([
    [
      'a text that a flow names and nobody wrote',
      '"press-words"',
      '"press-word"',
      'flows/watch.yaml:7  states.press.say  there is no text watch.press-words  did you mean watch.press-word?',
    ],
    [
      'a text that nothing uses',
      '"options"',
      '"left-over": "x",\n  "options"',
      'locales/en/watch.json:4  left-over  is never used',
    ],
    [
      'a value that does not exist',
      '{time}',
      '{tiem}',
      'locales/en/watch.json:2  press-words  there is no value tiem  did you mean time?',
    ],
    [
      'a brace without its partner',
      '{time}',
      '{time',
      'locales/en/watch.json:2  press-words  has a brace without its partner',
    ],
    ['a curly apostrophe', 'Press until', 'Don’t', 'locales/en/watch.json:2  press-words  not in the SMS alphabet: ’'],
    [
      'a text over one segment',
      'Press until',
      long,
      'locales/en/watch.json:2  press-words  takes 2 segments (161 of 160 characters',
    ],
    [
      'a screen over one segment, of several',
      '"Press until {time}."',
      `["Press until {time}.", "${'x'.repeat(161)}"]`,
      'locales/en/watch.json:2  press-words  screen 2 takes 2 segments (161 of 160 characters',
    ],
    [
      'a list of one screen',
      '"Press until {time}."',
      '["Press until {time}."]',
      'locales/en/watch.json:2  press-words',
    ],
    [
      'a digit that can be sent and is not shown',
      '9 cannot tell',
      'else say so',
      'locales/en/watch.json:3  neck  the question neck can be answered by 9, which the text does not show',
    ],
    [
      'an option without a label',
      '"changed": "changed|swollen"',
      '"changde": "changed"',
      'flows/watch.yaml:15  states.neck.ask.options  changed has no label in en',
    ],
    [
      'one word for two options',
      'changed|swollen',
      'changed|fine',
      'flows/watch.yaml:15  states.neck.ask.options  in en the word fine means well and changed',
    ],
    [
      'the word stop as an answer',
      'changed|swollen',
      'changed|stop',
      'flows/watch.yaml:15  states.neck.ask.options  in en the word stop of changed is a keyword',
    ],
    [
      'a key that stands twice',
      '"neck": "',
      '"neck": "x",\n  "neck": "',
      'locales/en/watch.json:4  neck  this key stands twice',
    ],
    [
      'a key with capitals',
      '"options"',
      '"leftOver": "x",\n  "options"',
      'locales/en/watch.json:4  leftOver  is no text key',
    ],
    [
      'a reason for a long text that is not there',
      '"options"',
      '"long": {\n    "neckk": "both choices"\n  },\n  "options"',
      'locales/en/watch.json:5  long.neckk  there is no text neckk  did you mean neck?',
    ],
    ['a file that is no JSON', '"press-words":', '"press-words"', 'locales/en/watch.json:2  -  is no JSON'],
  ])('are refused for %s', (_title, piece, by, expected) => {
    expect(english(piece, by).filter((line) => line.startsWith(expected))).toHaveLength(1);
  });

  it('may be long when the file says why', () => {
    const texts = spoilt(watchTexts, 'Press until', long).replace(
      '"options"',
      '"long": { "press-words": "read aloud" },\n  "options"',
    );
    expect(problemsOf({ 'locales/en/watch.json': texts })).toEqual([]);
  });

  it('are measured with values as wide as they usually are', () => {
    const texts = spoilt(watchTexts, 'Press until', 'x'.repeat(140));
    const wide = { ...watchRegistry, samples: new Map([['time', 'x'.repeat(30)]]) };
    expect(problemsOf({ 'locales/en/watch.json': texts })).toEqual([]);
    expect(problemsOf({ 'locales/en/watch.json': texts }, wide)).toHaveLength(1);
  });

  it('may be used by code: named whole or by how they begin', () => {
    const texts = spoilt(watchTexts, '"options"', '"told-a": "x",\n  "told-b": "x",\n  "options"');
    const files = { 'locales/en/watch.json': texts };
    expect(problemsOf(files, { ...watchRegistry, textKeys: ['watch.told-*'] })).toEqual([]);
    expect(problemsOf(files, { ...watchRegistry, textKeys: ['watch.told-a'] })).toHaveLength(1);
  });

  it('are refused where code hands over what a value of the same name hides', () => {
    const names = { ...watchRegistry, hiding: new Set(['tag']), vars: new Map([['tag', 'AK']]) };
    expect(problemsOf({}, names)).toEqual([
      'locales/en:1  {tag}  is handed over with a text and is a value too, which hides it  give one another name',
    ]);
    expect(problemsOf({}, { ...names, hiding: new Set() })).toEqual([]);
  });

  it('may show replies in a value, by its usual form', () => {
    const texts = spoilt(watchTexts, '1 well 2 changed', '{tag}');
    const files = { 'locales/en/watch.json': texts };
    expect(problemsOf(files)).toHaveLength(1);
    expect(problemsOf(files, { ...watchRegistry, samples: new Map([['tag', '1 well 2 changed']]) })).toEqual([]);
  });

  it('show a digit before a longer number only as a digit of its own', () => {
    const texts = spoilt(watchTexts, '9 cannot tell', 'over 90 kg: say so');
    expect(problemsOf({ 'locales/en/watch.json': texts })).toHaveLength(1);
  });

  it('lack nothing that every language must have', () => {
    const lines = problemsOf({
      'locales/en/meta.json': null,
      'locales/en/keywords.json': '{ "NEW": "new", "CASE": "new" }',
    });
    expect(lines).toContain('locales/en/meta.json:1  -  the file is missing  add it');
    expect(lines).toContain('locales/en/keywords.json:1  CASE  new means NEW already  give it one meaning');
    expect(lines).toContain('locales/en/keywords.json:1  SOS  is missing  add the words for SOS');
  });
});

describe('another language', () => {
  const swahili = (piece: string, by: string) => problemsOf(inSwahili(spoilt(swahiliTexts, piece, by)));

  it('is accepted when it says the same', () => {
    expect(problemsOf(inSwahili(swahiliTexts))).toEqual([]);
  });

  it.each([
    [
      'a text is missing',
      '"press-words": "Bonyeza hadi {time}.",\n',
      '',
      'locales/sw/watch.json:1  press-words  the text is missing  translate press-words',
    ],
    [
      'a value is missing',
      'hadi {time}',
      'sana',
      'locales/sw/watch.json:2  press-words  has the values none, English has time',
    ],
    [
      'a number differs',
      'Bonyeza',
      'Bonyeza 10',
      'locales/sw/watch.json:2  press-words  has the numbers 10, English has none',
    ],
    [
      'English has no such text',
      '"options"',
      '"zaidi": "x",\n  "options"',
      'locales/sw/watch.json:4  zaidi  English has no such text',
    ],
    [
      'a letter is not in the SMS alphabet',
      'Bonyeza',
      'Bönyêza',
      'locales/sw/watch.json:2  press-words  not in the SMS alphabet: ê',
    ],
    [
      'a word of an English option means another one',
      'imebadilika',
      'fine',
      'flows/watch.yaml:15  states.neck.ask.options  in sw the word fine means well and changed',
    ],
  ])('is refused when %s', (_title, piece, by, expected) => {
    expect(swahili(piece, by).filter((line) => line.startsWith(expected))).toHaveLength(1);
  });

  it('is refused when a whole file is missing', () => {
    const { 'locales/sw/doctor.json': _gone, ...files } = inSwahili(swahiliTexts);
    expect(problemsOf(files)).toEqual([
      'locales/sw/doctor.json:1  -  the file is missing, so sw falls back to English  translate it',
    ]);
  });

  it('may write its own digits and decimal comma', () => {
    const texts = {
      en: spoilt(watchTexts, 'Press until', 'Press 1.5 min until'),
      sw: spoilt(swahiliTexts, 'Bonyeza', 'Bonyeza 1,5'),
    };
    expect(problemsOf({ ...inSwahili(texts.sw), 'locales/en/watch.json': texts.en })).toEqual([]);
  });

  it('has no budget of one segment where its letters are not in GSM-7', () => {
    const meta = (tag: string) =>
      JSON.stringify({ name: tag, reviewedBy: '', reviewedOn: '', months: Array(12).fill('M'), alphabet: 'UCS-2' });
    const texts = spoilt(swahiliTexts, 'Bonyeza', 'ቦ'.repeat(100));
    expect(problemsOf({ ...inSwahili(texts), 'locales/sw/meta.json': meta('sw') })).toEqual([]);
  });
});
