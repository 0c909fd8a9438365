import { describe, expect, it } from 'vitest';
import { inSwahili, problemsOf, watchTexts } from './package-fixture.ts';

const english = { 'locales/en/cautions.json': '{ "press": "press", "not": "cannot" }' };
const swahili = watchTexts
  .replace('Press until {time}.', 'Usitoe, bonyeza hadi {time}.')
  .replace('neck? 1 well 2 changed 9 cannot tell', 'shingo? 1 sawa 2 imebadilika 9 sijui');

/** Problems of the second language with these cautions and this text in place of `bonyeza`. */
function problems(cautions: string | null, press = 'bonyeza'): readonly string[] {
  const files = { ...english, ...inSwahili(swahili.replace('bonyeza', press)) };
  return problemsOf({ ...files, 'locales/sw/cautions.json': cautions }).filter((one) => /caution|drops/u.test(one));
}

describe('cautions', () => {
  it('are words of every language that says them', () => {
    expect(problems('{ "press": "bonyeza", "not": "si*|hai*" }')).toEqual([]);
  });

  it('are missed in a text that drops one, by its line and name', () => {
    expect(problems('{ "press": "bonyeza", "not": "si*" }', 'shika')).toEqual([
      'locales/sw/watch.json:2  press-words  drops "press", which English says  say it, or add its word to locales/sw/cautions.json',
    ]);
  });

  it('may begin or end in any letters where a star stands, and are whole words elsewhere', () => {
    expect(problems('{ "press": "bonye*", "not": "*jui" }')).toEqual([]);
    expect(problems('{ "press": "bonye", "not": "jui" }')).toHaveLength(2);
  });

  it.each([
    ['a list that is not there', null, '-  the file is missing'],
    ['one without words', '{ "press": "bonyeza" }', 'not  is missing'],
    [
      'one that English lacks',
      '{ "press": "bonyeza", "not": "si*", "wet": "bichi" }',
      'wet  English has no such caution',
    ],
    ['words that no text can say', '{ "press": "Bonyeza", "not": "si*" }', 'press  Bonyeza never matches'],
  ])('are refused: %s', (_title, list, expected) => {
    expect(problems(list).some((one) => one.includes(expected))).toBe(true);
  });

  it('that no English text says are refused too', () => {
    const lists = { 'locales/en/cautions.json': '{ "sharps": "sharps" }' };
    expect(problemsOf(lists).filter((one) => one.includes('cautions'))).toEqual([
      'locales/en/cautions.json:1  sharps  is said in no text  take it out, or say it',
    ]);
  });
});

describe('words that people are told to send', () => {
  /** Problems where English and Swahili have these hints, and Swahili hears BACK as NYUMA and SAME as SAWA. */
  function shown(hint: string, kidokezo: string): readonly string[] {
    const own = inSwahili(swahili);
    const files = {
      'locales/en/doctor.json': `{ "neck-changed": "Neck changed. 1 refer 2 call me", "hint": "${hint}" }`,
      ...own,
      'locales/sw/doctor.json': `{ "neck-changed": "Shingo. 1 rufaa 2 piga simu", "hint": "${kidokezo}" }`,
      'locales/sw/keywords.json': own['locales/sw/keywords.json']!.replace('"back|b', '"nyuma|back|b'),
      'locales/sw/alarm.json': own['locales/sw/alarm.json']!.replace('"same|', '"sawa|same|'),
    };
    return problemsOf(files).filter((one) => one.includes('does not show'));
  }

  it('stand there as the language hears them, in capitals', () => {
    expect(shown('Send BACK or SAME.', 'Tuma NYUMA au SAWA.')).toEqual([]);
    expect(shown('Send BACK.', 'Tuma NYUMA.')).toEqual([]);
    expect(shown('READ BACK twice.', 'Soma tena.')).toEqual([]);
    expect(shown('Send BACK.', 'Tuma BACK.')).toEqual([]);
    expect(shown('Send SAME.', 'Tuma SAWA.')).toEqual([]);
  });

  it('are missed where another word stands, or the word in small letters', () => {
    const missed = ['locales/sw/doctor.json:1  hint  does not show the word for BACK  show NYUMA'];
    expect(shown('Send BACK.', 'Tuma RUDI.')).toEqual(missed);
    expect(shown('Send BACK.', 'Tuma nyuma.')).toEqual(missed);
  });

  it('may be other words where nobody is told to send them', () => {
    expect(shown('STOP and press.', 'Acha, bonyeza.')).toEqual([]);
    expect(shown('Send STOP.', 'Tuma acha.')).toHaveLength(1);
  });
});
