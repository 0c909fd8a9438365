import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LABEL_LINE_LENGTH, type Label, type LabelWords, labelLines } from '../../src/case/label.ts';
import { runs } from '../support/runs.ts';

const SEED = 20300304;
const WORDS: LabelWords = {
  name: 'NAME',
  born: 'BORN',
  taken: 'TAKEN',
  months: ['JAN', 'FEB', 'MAR', 'APR', 'MAY', 'JUN', 'JUL', 'AUG', 'SEP', 'OCT', 'NOV', 'DEC'],
  capillary: 'FNA CAPILLARY',
  aspiration: 'FNA ASPIRATION',
  thyroid: 'THYROID',
  node: 'NECK NODE',
  sides: { right: 'RIGHT', left: 'LEFT', isthmus: 'ISTHMUS' },
  places: { upper: 'UPPER', lower: 'LOWER' },
  aboveCollarbone: 'COLLARBONE',
  mm: 'MM',
  fluid: 'FLUID',
  ml: 'ML',
  looks: { clear: 'CLEAR', yellow: 'YELLOW', brown: 'BROWN', red: 'RED', pus: 'PUS' },
  slides: 'SLIDES',
  of: 'OF',
  fixations: { alcohol: 'ALCOHOL', spray: 'SPRAY', dried: 'DRIED' },
};

const linesOf = (label: Label, words = WORDS) => labelLines(label, words);
const LABEL: Label = {
  code: '48291354',
  person: { mode: 'by-hand', birthYear: 1982 },
  taken: { year: 2030, month: 3, day: 12 },
  technique: 'capillary',
  side: 'right',
  place: null,
  fluids: [],
  node: null,
  mm: [22, 15, 14],
  slides: [{ numbers: [1, 2, 3, 4], fixation: 'alcohol' }],
  slidesInAll: 4,
  site: 'Kesa clinic',
};

describe('label for the side of the jar', () => {
  it('leaves name and birth date to be written by hand', () => {
    expect(linesOf(LABEL)).toEqual([
      '4829 1354',
      'NAME ____________________',
      'BORN ___/___/1982',
      'TAKEN 12 MAR 2030',
      'FNA CAPILLARY THYROID RIGHT',
      '22x15x14 MM',
      'SLIDES 1-4 OF 4 ALCOHOL',
      'Kesa clinic',
    ]);
  });

  it('invents no birth year where only an age is known', () => {
    const lines = linesOf({ ...LABEL, person: { mode: 'by-hand', birthYear: null } });
    expect(lines).toContain('BORN ___/___/______');
  });

  it('shows name and birth date, month in words, where the programme stores them', () => {
    const person = { mode: 'in-chat', name: 'Amina Kesani', born: { year: 1982, month: 11, day: 3 } } as const;
    expect(linesOf({ ...LABEL, person }).slice(1, 3)).toEqual(['NAME Amina Kesani', 'BORN 3 NOV 1982']);
  });

  it('says which slides were fixed how', () => {
    const slides = [
      { numbers: [1, 3], fixation: 'alcohol' },
      { numbers: [2, 4], fixation: 'dried' },
    ] as const;
    const lines = linesOf({ ...LABEL, slides });
    expect(lines).toEqual(expect.arrayContaining(['SLIDES 1,3 OF 4 ALCOHOL', 'SLIDES 2,4 OF 4 DRIED']));
  });

  it('calls every way with suction aspiration, and breaks what is too long between words', () => {
    const lines = linesOf({ ...LABEL, technique: 'second-operator', side: 'isthmus' });
    expect(lines).toEqual(expect.arrayContaining(['FNA ASPIRATION THYROID', 'ISTHMUS']));
  });

  it('names a neck node with its side and level on a line of its own, and never the thyroid', () => {
    const lines = linesOf({ ...LABEL, technique: 'holder', side: 'left', node: { level: 'II' } });
    expect(lines).toEqual(expect.arrayContaining(['FNA ASPIRATION', 'NECK NODE LEFT II']));
    expect(linesOf({ ...LABEL, side: 'left', node: { level: null } })).toContain('NECK NODE LEFT');
    expect(linesOf({ ...LABEL, side: 'left', node: { level: 'low' } }).join(' ')).toContain(
      'NECK NODE LEFT COLLARBONE',
    );
    expect(lines.join(' ')).not.toContain('THYROID');
  });

  const text = fc.string({ unit: fc.constantFrom(...'ABCDEFGH ijklm'), minLength: 1, maxLength: 120 });
  const slides = fc
    .uniqueArray(fc.integer({ min: 1, max: 10 }), { minLength: 1, maxLength: 10 })
    .chain((numbers) =>
      fc
        .array(fc.nat(2), { minLength: numbers.length, maxLength: numbers.length })
        .map((groups) =>
          (['alcohol', 'spray', 'dried'] as const)
            .map((fixation, n) => ({ fixation, numbers: numbers.filter((_, at) => groups[at] === n) }))
            .filter((group) => group.numbers.length > 0),
        ),
    );
  const labels = fc.record<Label>({
    code: fc.constantFrom('48291354', '1234567890'),
    person: fc.oneof(
      fc.constantFrom({ mode: 'by-hand', birthYear: 1982 } as const, { mode: 'by-hand', birthYear: null } as const),
      text.map((name) => ({ mode: 'in-chat', name, born: { year: 1982, month: 12, day: 31 } }) as const),
    ),
    taken: fc.record({ year: fc.constant(2030), month: fc.integer({ min: 1, max: 12 }), day: fc.constant(28) }),
    technique: fc.constantFrom('capillary', 'holder', 'second-operator', 'improvised-holder'),
    side: fc.constantFrom('right', 'left', 'isthmus'),
    place: fc.constantFrom(null, 'upper', 'lower'),
    fluids: fc.constantFrom([], [{ ml: 6.5, look: 'brown' } as const]),
    node: fc.constantFrom(null, { level: null }, { level: 'VII' }, { level: 'low' }),
    mm: fc.array(fc.constantFrom(5, 22, 100.5, 149.5), { minLength: 1, maxLength: 3 }),
    slides,
    slidesInAll: fc.constantFrom(1, 10),
    site: text,
  });

  it('no line is longer than the jar allows, whatever the name, site and slides', () => {
    fc.assert(
      fc.property(labels, (label) => {
        for (const line of linesOf(label)) {
          expect(line.length).toBeLessThanOrEqual(LABEL_LINE_LENGTH);
          expect(line.trim()).not.toBe('');
        }
      }),
      { seed: SEED, numRuns: runs(500, 50_000) },
    );
  });

  // GSM 03.38: two joined segments hold 2 x 153 characters of the basic alphabet.
  it('by hand it fits two segments, whatever the site and slides', () => {
    fc.assert(
      fc.property(labels, (label) => {
        fc.pre(label.person.mode === 'by-hand');
        expect(linesOf(label).join('\n').length).toBeLessThanOrEqual(306);
      }),
      { seed: SEED, numRuns: runs(500, 50_000) },
    );
  });

  it('tubes of fluid that looks the same stand on one line, each with its own volume', () => {
    const lines = linesOf({
      ...LABEL,
      fluids: [
        { ml: 6, look: 'brown' },
        { ml: 4, look: 'clear' },
        { ml: 2.5, look: 'brown' },
      ],
    });
    expect(lines.filter((line) => line.startsWith('FLUID'))).toEqual(['FLUID 6+2.5 ML BROWN', 'FLUID 4 ML CLEAR']);
  });

  it('the longest label by hand still fits two segments', () => {
    const longest = linesOf({
      code: '1234567890',
      person: { mode: 'by-hand', birthYear: null },
      taken: { year: 2030, month: 12, day: 31 },
      technique: 'holder',
      side: 'isthmus',
      place: null,
      fluids: [],
      node: { level: 'VII' },
      mm: [149.5, 149.5, 149.5],
      slides: [
        { numbers: [1, 4, 7, 10], fixation: 'alcohol' },
        { numbers: [2, 5, 8], fixation: 'dried' },
        { numbers: [3, 6, 9], fixation: 'spray' },
      ],
      slidesInAll: 10,
      site: 'Kesa '.repeat(30),
    });
    expect(longest.join('\n').length).toBeLessThanOrEqual(306);
  });
});
