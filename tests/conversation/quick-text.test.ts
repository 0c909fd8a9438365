import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { QuickVocabulary } from '../../src/conversation/answers/quick-vocabulary.ts';
import { type QuickText, readQuickText } from '../../src/conversation/quick-text.ts';
import { foldWord } from '../../src/text/fold.ts';

const english = JSON.parse(
  readFileSync(new URL('../../locales/en/quick.json', import.meta.url), 'utf8'),
) as QuickVocabulary;

const quick = (text: string): QuickText => readQuickText(text, english, 2030);
/** Answers as one object: `n1.mm`, `tsh`. */
const said = (text: string): Record<string, unknown> =>
  Object.fromEntries(quick(text).answers.map(({ field, item, value }) => [item ? `${item}.${field}` : field, value]));

describe('the quick text', () => {
  it('reads a whole patient in one message', () => {
    const text = 'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0';
    expect(said(text)).toEqual({
      'patient.initials': 'AK',
      'patient.birthYear': 1982,
      'patient.sex': 'female',
      'n1.mm': [22, 15, 14],
      'n1.site': 'right',
      'n1.composition': 'solid',
      'n1.echogenicity': 'hypoechoic',
      'n1.margin': 'irregular',
      'n1.foci': ['punctate', 'unknown'],
      tsh: 'normal',
      examined: true,
      palpable: true,
      'ultrasound.done': true,
      'ultrasound.probe': 'linear',
      dangerSigns: [],
      risks: [],
    });
    expect(quick(text).leftover).toEqual([]);
  });

  it('reads it in another order the same', () => {
    const one = said('NEW AK 1982 F R 22x15x14 solid hypo micro TSH normal felt linear signs 0 risks 0');
    const other = said(
      'new risks 0, signs 0; linear felt. micro solid TSH normal hypo right 22 x 15 x 14 mm F 1982 AK',
    );
    expect(other).toEqual(one);
  });

  it('takes two of three sizes as such, and the words behind them as their nodule', () => {
    expect(said('AK 1982 F R 22x15 solid L 8x6x6 cystic')).toMatchObject({
      'n1.mmTwo': [22, 15],
      'n1.site': 'right',
      'n1.composition': 'solid',
      'n2.mm': [8, 6, 6],
      'n2.composition': 'cystic',
    });
    expect(said('AK 1982 F R 22x15 solid')).not.toHaveProperty('n1.mm');
  });

  it('ends what belongs together at a comma: hard to swallow is no hard lump, swallowing and hard are two signs', () => {
    expect(said('NEW AK 1982 F signs swallowing hard').dangerSigns).toEqual(['swallowing']);
    expect(said('NEW AK 1982 F signs swallowing, hard').dangerSigns).toEqual(['swallowing', 'hard']);
  });

  it('leaves out what is unsaid: it stays unknown', () => {
    expect(said('AK 43 F')).toEqual({ 'patient.initials': 'AK', 'patient.ageYears': 43, 'patient.sex': 'female' });
    expect(quick('').answers).toEqual([]);
  });

  it.each([
    ['signs hoarse nodes felt', ['voice-change', 'neck-nodes']],
    ['signs hoarse, nodes', ['voice-change', 'neck-nodes']],
    ['signs hoarse risks 0', ['voice-change']],
    ['hoarse', ['voice-change', 'unknown']],
    ['signs hoarse perhaps nodes', ['voice-change', 'unknown']],
    ['signs hoarse wobbly', ['voice-change', 'unknown']],
    ['no signs', []],
    ['danger signs none', []],
    ['signs', undefined],
    ['signs 26', undefined],
    ['signs 0 hoarse', ['voice-change', 'unknown']],
    ['hoarse no signs', ['voice-change', 'unknown']],
    ['signs 0?', undefined],
  ])('takes a list as complete only when it was named and said to its end: %j', (text, signs) => {
    expect(said(text).dangerSigns).toEqual(signs);
  });

  it.each([
    ['a denied word', 'no micro', ['no', 'micro']],
    ['what the denial may reach', 'no micro, coarse', ['no', 'micro', 'coarse']],
    ['a denial of two words', 'no hard nodes', ['no', 'hard', 'nodes']],
    ['a denial behind', 'nodes ok', ['nodes', 'ok']],
    ['a nought behind', 'nodes 0', ['nodes', '0']],
    ['a question mark', 'solid?', ['solid']],
    ['a question mark with a space', 'solid ?', ['solid']],
    ['a guess', 'maybe solid', ['maybe', 'solid']],
    ['two that exclude each other', 'solid mixed', ['solid', 'mixed']],
    ['one or the other', 'solid or mixed', ['solid', 'or', 'mixed']],
    ['a laboratory number', 'TSH 2.1', ['TSH', '2.1']],
    ['digits of a question not shown', 'signs 26', ['signs', '26']],
    ['a size that needs its unit', 'R 2.2x1.5x1.4', ['R', '2.2x1.5x1.4']],
    ['a size of a solid part in cm', 'solid part 1.2cm', ['solid', 'part', '1.2cm']],
    ['unknown words as typed', 'Wobbly Ünder', ['Wobbly', 'Ünder']],
    ['an age that may be a size', 'L 43', ['L', '43']],
    ['a year to come', 'AK 2044 F', ['AK', '2044', 'F']],
  ])('does not take %s', (_what, text, leftover) => {
    expect(quick(text)).toEqual({ answers: [], leftover });
  });

  it('denies only what follows: a no between two words belongs to the second', () => {
    expect(said('solid no nodes')).toEqual({ 'n1.composition': 'solid' });
  });

  it('reads denials that are words of the trade', () => {
    expect(said('not felt')).toEqual({ examined: true, palpable: false });
    expect(said('no ultrasound')).toEqual({ 'ultrasound.done': false });
  });

  it('reads numbers with their names', () => {
    expect(said('linear 7.5MHz INR 2.8 platelets 150 solid part 12 mixed')).toEqual({
      'ultrasound.done': true,
      'ultrasound.probe': 'linear',
      'ultrasound.mhz': 7.5,
      inr: 2.8,
      platelets: 150,
      'n1.solidPartMm': 12,
      'n1.composition': 'mixed',
    });
  });

  it('reads on which side the lump is felt', () => {
    expect(said('felt right')).toEqual({ examined: true, palpable: true, side: 'right' });
    expect(said('felt R 22x15x14')).toEqual({
      examined: true,
      palpable: true,
      'n1.mm': [22, 15, 14],
      'n1.site': 'right',
    });
  });

  it('reads pregnancy and an age', () => {
    expect(said('NEW AK 33 F P20 felt')).toMatchObject({
      'patient.ageYears': 33,
      'patient.pregnant': 'yes',
      'patient.pregnantWeeks': 20,
    });
  });
});

describe('a quick text that contradicts itself', () => {
  it.each([
    ['the lump felt and not felt', 'R 30x20x20 felt L 12x10x10 not felt', ['examined', 'palpable']],
    ['felt, and the neck not examined', 'felt signs 0 not examined', ['examined', 'palpable']],
    ['two probes', 'linear signs 0 curved', ['ultrasound.done', 'ultrasound.probe']],
    ['a probe, and no ultrasound', 'linear signs 0 no ultrasound', ['ultrasound.done', 'ultrasound.probe']],
  ])('leaves nothing of the words that cannot both be true: %s', (_what, text, fields) => {
    expect(quick(text).answers.filter(({ field }) => fields.includes(field))).toEqual([]);
  });

  it('keeps what another word says of the same thing', () => {
    expect(said('us done linear signs 0 curved')).toEqual({ 'ultrasound.done': true, dangerSigns: [] });
    expect(quick('us done linear signs 0 curved').leftover).toEqual(['linear', 'curved']);
  });
});

describe('the quick text with several nodules', () => {
  it('gives the words behind a size to that nodule', () => {
    expect(said('R 22x15x14 solid hypo L 8x6x6 spongiform')).toEqual({
      'n1.mm': [22, 15, 14],
      'n1.site': 'right',
      'n1.composition': 'solid',
      'n1.echogenicity': 'hypoechoic',
      'n2.mm': [8, 6, 6],
      'n2.site': 'left',
      'n2.composition': 'spongiform',
    });
  });

  it.each([
    ['words before the first size', 'solid R 22x15x14 spongiform L 8x6x6', ['solid', 'spongiform']],
    ['a size not read', 'R 2.2x1.5x1.4 solid L 8x6x6 tall', ['R', '2.2x1.5x1.4', 'solid', 'tall']],
    ['a side without a size', 'R 22x15x14 solid, L tall', ['solid', 'L', 'tall']],
    ['numbers with spaces and no side', '22 15 14 solid L 8x6x6 tall', ['22', '15', '14', 'solid', 'tall']],
  ])('asks again whose words they are with %s', (_what, text, leftover) => {
    const { answers, leftover: left } = quick(text);
    expect(left).toEqual(leftover);
    expect(answers.filter(({ field }) => field === 'composition' || field === 'shape')).toEqual([]);
  });

  it('still takes the words when a laboratory number was not read', () => {
    expect(said('TSH 2.1 R 22x15x14 solid')['n1.composition']).toBe('solid');
  });

  it('asks for the sides where one could belong to either nodule', () => {
    expect(said('22x15x14 R 8x6x6')).toEqual({ 'n1.mm': [22, 15, 14], 'n2.mm': [8, 6, 6] });
  });

  it('takes M for the middle only when the sex is known without it', () => {
    expect(said('AK 1982 F M 22x15x14')['n1.site']).toBe('isthmus');
    expect(said('AK 1982 M 22x15x14')).not.toHaveProperty(['n1.site']);
    expect(said('AK 1982 M R 22x15x14')).toMatchObject({ 'patient.sex': 'male', 'n1.site': 'right' });
  });

  it('takes none of five', () => {
    const five = Array(5).fill('R 9x8x7').join(' ');
    expect(quick(five).answers).toEqual([]);
  });
});

describe('the English trade words', () => {
  it('stand folded, as they are compared', () => {
    const keys = [english.words, english.lists, english.numbersBehind, english.sides, english.patient.sex].flatMap(
      (table) => Object.keys(table),
    );
    expect(keys.filter((key) => foldWord(key) !== key)).toEqual([]);
  });

  it.each(Object.entries(english.words))('read %j alone as what it says', (phrase, meanings) => {
    const { answers, leftover } = quick(phrase);
    expect(leftover).toEqual([]);
    expect(answers.map(({ field }) => field).sort()).toEqual(meanings.map(({ field }) => field).sort());
  });
});
