import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { htmlOf } from '../../src/cards/book.ts';
import type { Page } from '../../src/cards/page.ts';
import { lookQuestions } from '../../src/cards/pages/looks.ts';
import { LABEL_LINE_LENGTH } from '../../src/case/label.ts';
import { saidNumbers } from '../../src/clinical/said-numbers.ts';
import { placeOf } from '../../src/content/cards.ts';
import { shipped } from '../support/shipped.ts';
import { keywords, longPlace, pagesFor } from './shipped-cards.ts';

const pages = pagesFor('plain');
const brief = pagesFor('brief');
const own = JSON.parse(readFileSync(new URL('../../locales/en/cards.json', import.meta.url), 'utf8')) as Record<
  string,
  string
>;

/** The texts of the line that ask what card 11 draws. */
const lumpQuestions: Readonly<Record<string, 'new.inside' | 'new.looks' | 'new.bright'>> = {
  'look-inside': 'new.inside',
  'look-looks': 'new.looks',
  'look-bright': 'new.bright',
};

/** All words of a card in the order of reading, lines joined. */
function read(page: Page | undefined): string {
  return (page?.texts ?? []).map(({ text }) => text).join(' ');
}

/** The figures and letters in the drawings of a card. */
function drawn(page: Page | undefined): readonly string[] {
  return (page?.pictures ?? []).flatMap(({ drawing }) =>
    [...drawing.ink.matchAll(/<text[^>]*>([^<]*)<\/text>/gu)].map((found) => found[1]!),
  );
}

describe('the cards', () => {
  it('are numbered from 1, in the order of their numbers', () => {
    expect(pages.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    for (const page of pages) expect(read(page)).toMatch(new RegExp(`^CARD ${page.number} `));
  });

  it('card 1 names every word that the line always takes, SOS before all others', () => {
    const heavy = pages[0]!.texts.filter(({ weight }) => weight === 'bold').flatMap(({ text }) => text.split(/[ ,]+/u));
    expect(keywords.length).toBeGreaterThan(30);
    const named = (keyword: string) => shipped.texts.keywordShown('en', keyword);
    expect(keywords.map(named).filter((word) => !heavy.includes(word))).toEqual([]);
    const largest = Math.max(...pages[0]!.texts.map(({ size }) => size));
    expect(pages[0]!.texts.filter(({ size }) => size === largest).map(({ text }) => text)).toEqual(['SOS']);
  });

  it('card 1 gives the words of an open alarm as the line reads them', () => {
    for (const word of ['SAME', 'WORSE', 'GOING', 'WELL', 'CANNOT']) expect(read(pages[0])).toContain(word);
  });

  it.each([
    [3, 'strokeSeconds', '{} seconds'],
    [3, 'airMl', '{} ml air'],
    [4, 'fixSeconds', 'within {} seconds'],
    [4, 'sprayCm', 'from {} cm'],
    [4, 'spraySeconds', 'for {} seconds'],
    [4, 'pressMinutes', 'for {} minutes'],
    [6, 'faintMinutes', 'in {} minutes'],
    [6, 'tiltWeeks', 'From {} weeks'],
    [7, 'tiltWeeks', '{} weeks or more'],
  ] as const)('card %i says %s as the line says it', (number, name, words) => {
    expect(read(pages[number - 1])).toContain(words.replace('{}', saidNumbers[name]!));
  });

  it('the drawings show the same seconds and centimetres', () => {
    expect(drawn(pages[3])).toEqual(
      expect.arrayContaining([`${saidNumbers.fixSeconds} s`, `${saidNumbers.sprayCm} cm`]),
    );
  });

  it('card 11 shows every answer of the three questions about a lump beside the digit that the line takes', () => {
    for (const { key, answers } of lookQuestions) {
      const question = shipped.texts.render('en', lumpQuestions[key]!, () => '').replace(/\n/gu, ' ');
      for (const { digit, key: answer } of answers) expect(question).toContain(` ${digit} ${own[answer]}`);
      const digits = [...question.matchAll(/ (\d) /gu)]
        .map((found) => Number(found[1]))
        .filter((one) => one !== 0 && one !== 9);
      expect(answers.map(({ digit }) => digit)).toEqual(digits);
    }
  });

  it('card 11 draws each answer as the lump is drawn everywhere, no two alike', () => {
    const inks = (pages[10]?.pictures ?? []).map(({ drawing }) => drawing.ink.replace(/look-[a-z-]+-[a-z]/gu, ''));
    expect(inks).toHaveLength(14);
    expect(new Set(inks).size).toBe(14);
  });

  it('no time, distance or amount is written out: all come from the clinical code', () => {
    const measured = /\d+ ?(s|sec|seconds?|min|minutes?|h|hours?|days?|weeks?|cm|mm|ml|degrees)\b/iu;
    expect(Object.entries(own).filter(([, text]) => measured.test(text))).toEqual([]);
  });

  it('a brief card says no fact less: the same numbers, the same warnings in capitals', () => {
    const loud = (page: Page | undefined) =>
      [
        ...new Set(read(page).match(/\b(?:NOW|NOT|WET|SIDE|EACH|LEFT|RIGHT|BLOOD|FLUID|NO NEEDLE|\d[\d-]*)\b/gu) ?? []),
      ].sort();
    for (const [at, page] of pages.entries()) expect([at + 1, loud(brief[at])]).toEqual([at + 1, loud(page)]);
  });
});

/*
 * First aid by its sources, as in tests/published/first-aid.test.ts: AHA and Red Cross first aid 2019, presyncope; Iliff et al.,
 * Anaesthesia 2022;77:82-95; lying in pregnancy: src/clinical/position.ts.
 */
describe('first aid on card 6', () => {
  const aid = (key: string) => `${own[`${key}-head`]}: ${own[key]}`;

  it('comes after the needle is out and help is called', () => {
    expect(own['aid-first']).toMatch(/^Needle out\. Send SOS\./);
  });

  it.each([
    [
      'faint',
      [/flat/i, /legs up/, /cold cloth/, /squeeze the legs/, /not awake/, /chest pain/, /fit/, /hospital NOW/],
      /sit up/i,
    ],
    ['faint-pregnant', [/LEFT side/, /never flat/, /weeks not known/], /RIGHT|legs up/],
    [
      'bleeding',
      [
        /Press hard/,
        /sit up/,
        /cold pack/,
        /edge with a pen/,
        /restless/,
        /cannot swallow spit/,
        /muffled/,
        /blue lips/,
        /hospital NOW/,
      ],
      /flat/i,
    ],
    ['breathing', [/Sit up/, /press a swelling/, /oxygen/, /hospital NOW/, /with somebody/], /flat/i],
  ] as const)('%s says what its source says', (key, says, never) => {
    for (const one of says) expect(aid(key)).toMatch(one);
    expect(aid(key)).not.toMatch(never);
  });

  it('gives the number to call where it can be dialled, else names the card with the numbers', () => {
    expect(read(pagesFor('plain', longPlace)[5])).toContain(`Call ${longPlace.voice}`);
    expect(read(pages[5])).toContain('card 10');
  });
});

describe('the label on card 5', () => {
  it('is the block that the line sends, then with name and birth date written in', () => {
    const text = read(pages[4]);
    expect(text).toMatch(
      /4829 1354 NAME _+ BORN ___\/___\/1982 TAKEN 4 MAR 2030 FNA CAPILLARY THYROID RIGHT 22x15x14 MM/,
    );
    expect(text).toContain('NAME TALA FENN BORN 12 MAR 1982');
    expect(text).toContain('SLIDES 1-4 OF 4 ALCOHOL');
  });

  it('no line is longer than the side of a jar', () => {
    const block = pages[4]!.texts.filter(({ text }) => /^(NAME|BORN|TAKEN|FNA|SLIDES)/.test(text));
    expect(block.length).toBe(10);
    expect(block.filter(({ text }) => text.length > LABEL_LINE_LENGTH)).toEqual([]);
  });

  it('says side and never lid, in words and in the drawing', () => {
    expect(own['side-not-lid']).toMatch(/SIDE.*never on the lid/);
    expect(own['side-not-lid-drawing']).toMatch(/crossed out: a jar with a label on its lid/);
  });
});

describe('the file', () => {
  const html = htmlOf(pages, { locale: 'en', title: 'A <line> & its "cards"' });

  // Its own patterns are named within the file.
  it('needs no network, no script and no other file', () => {
    const outside = html
      .replaceAll('xmlns="http://www.w3.org/2000/svg"', '')
      .replace(/url\(#[a-z-]+\)|href="#[a-z-]+"/gu, '');
    expect(outside).not.toMatch(/https?:|<script|<link|<img|<image|@import|url\(|href=|src=| on\w+=/iu);
  });

  it('is one section a card, each with a page of its own', () => {
    expect(html.match(/<section id="card-\d+">/gu)).toHaveLength(pages.length);
    expect(html).toContain('@page{size:A4');
    expect(html).toContain('page-break-after:always');
  });

  it('says what it is in words that no sign of a name can break', () => {
    expect(html).toContain('<title>A &lt;line&gt; &amp; its &quot;cards&quot;</title>');
  });

  it('no two titles or descriptions share an id, and each drawing points to its own', () => {
    const ids = [...html.matchAll(/ id="(c\d+p\d+[td])"/gu)].map((found) => found[1]!);
    const named = [...html.matchAll(/aria-labelledby="(\S+) (\S+)"/gu)].flatMap((found) => [found[1]!, found[2]!]);
    expect(new Set(ids).size).toBe(ids.length);
    expect(named).toEqual(ids);
    expect(ids.length).toBeGreaterThan(30);
  });
});

describe('what the programme knows', () => {
  const { programme } = shipped;

  it('stands on card 10 for a site of its own, the rest is left to write in', () => {
    const place = placeOf(programme, 'oruma', '1234');
    expect(place).toMatchObject({ clinic: 'ORUMA CLINIC', hospital: 'Tamboro Hospital', line: '1234' });
    expect(place.laboratory?.name).toBe('Lab Velin');
    expect(read(pagesFor('plain', place)[9])).toContain('Lab Velin, Box 7, Velin');
  });

  it("no wall names what is another site's", () => {
    const sites = programme.sites.map((one, at) => (at === 0 ? { ...one, hospital: 'Mora Hospital' } : one));
    const place = placeOf({ ...programme, sites }, null, null);
    expect(place).toMatchObject({ clinic: null, hospital: null, laboratory: null, night: 'Tamboro Hospital, gate 2' });
  });

  it('a number that cannot be dialled is not printed', () => {
    expect(placeOf({ ...programme, voiceNumber: 'bench:voice' }, 'oruma', null).voice).toBe(null);
    const sites = programme.sites.map((one) => ({ ...one, voiceNumber: '+000 555 0100' }));
    expect(placeOf({ ...programme, sites }, null, null).voice).toBe('+000 555 0100');
  });
});
