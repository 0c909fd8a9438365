import { describe, expect, it } from 'vitest';
import { actionFor } from '../../src/clinical/cytology/action.ts';
import { benignReview } from '../../src/clinical/cytology/benign-review.ts';
import { crosswalk } from '../../src/clinical/cytology/crosswalk.ts';
import { type ParsedResult, parseResult } from '../../src/clinical/cytology/parse.ts';
import { riskOf } from '../../src/clinical/cytology/risk.ts';

function understood(text: string): Extract<ParsedResult, { ok: true }> {
  const result = parseResult(text);
  if (!result.ok) throw new Error(`${text} was asked back: ${result.ask}`);
  return result;
}

// Thy: RCPath G089, 2016. Crosswalk: de Koster, thesis, p. 25. Actions: omfshandbook.com, Eurocytology. Deadlines: ours.
describe('results as laboratories write them', () => {
  it.each([
    ['Thy1', 'Thy1', 'I', 'TIR1', 'repeat-with-ultrasound', 'no', 'days', 28],
    ['THY 1C', 'Thy1c', 'I', 'TIR1C', 'look-for-residual-lump', 'no', 'days', 28],
    ['thy2', 'Thy2', 'II', 'TIR2', 'follow-up', 'if-discordant', 'days', 365],
    ['Thy2c', 'Thy2c', 'II', 'TIR2', 'follow-up', 'if-discordant', 'days', 365],
    ['Thy3a', 'Thy3a', 'III', 'TIR3A', 'repeat-and-refer', 'yes', 'days', 14],
    ['thy3F', 'Thy3f', 'IV', 'TIR3B', 'refer-diagnostic-surgery', 'yes', 'days', 14],
    ['Thy4', 'Thy4', 'V', 'TIR4', 'refer-urgent', 'yes', 'workdays', 2],
    ['Thy5', 'Thy5', 'VI', 'TIR5', 'refer-urgent-by-type', 'yes', 'days', 0],
    ['Bethesda I', 'Thy1/1c', 'I', 'TIR1|TIR1C', 'ask-if-cyst-then-repeat', 'no', 'days', 28],
    ['B2', 'Thy2/2c', 'II', 'TIR2', 'follow-up', 'if-discordant', 'days', 365],
    ['Bethesda III', 'Thy3a', 'III', 'TIR3A', 'repeat-and-refer', 'yes', 'days', 14],
    ['AUS', 'Thy3a', 'III', 'TIR3A', 'repeat-and-refer', 'yes', 'days', 14],
    ['FLUS', 'Thy3a', 'III', 'TIR3A', 'repeat-and-refer', 'yes', 'days', 14],
    ['Bethesda IV', 'Thy3f', 'IV', 'TIR3B', 'refer-diagnostic-surgery', 'yes', 'days', 14],
    ['Bethesda V', 'Thy4', 'V', 'TIR4', 'refer-urgent', 'yes', 'workdays', 2],
    ['Bethesda VI', 'Thy5', 'VI', 'TIR5', 'refer-urgent-by-type', 'yes', 'days', 0],
    ['TIR1', 'Thy1', 'I', 'TIR1', 'repeat-with-ultrasound', 'no', 'days', null],
    ['TIR1C', 'Thy1c', 'I', 'TIR1C', 'look-for-residual-lump', 'no', 'days', 28],
    ['TIR2', 'Thy2/2c', 'II', 'TIR2', 'follow-up', 'if-discordant', 'days', 365],
    ['TIR3A', 'Thy3a', 'III', 'TIR3A', 'repeat-and-refer', 'yes', 'days', 14],
    ['TIR3B', 'Thy3f', 'IV', 'TIR3B', 'refer-diagnostic-surgery', 'yes', 'days', 14],
    ['TIR4', 'Thy4', 'V', 'TIR4', 'refer-urgent', 'yes', 'workdays', 2],
    ['TIR5', 'Thy5', 'VI', 'TIR5', 'refer-urgent-by-type', 'yes', 'days', 0],
  ] as const)('%s is %s, Bethesda %s, %s: %s', (text, canonical, bethesda, tir, next, mdt, unit, latest) => {
    const result = understood(text);
    expect(result.canonical).toBe(canonical);
    const same = crosswalk(result.canonical);
    expect(same.bethesda.join('|')).toBe(bethesda);
    expect(same.tir.join('|')).toBe(tir);
    expect(actionFor(result.code)).toMatchObject({ next, mdt, deadline: { unit, latest } });
  });

  it.each([
    ['Thy3', 'letter-missing', ['Thy3a', 'Thy3f']],
    ['Thy3b', 'no-such-code', ['Thy3f', 'TIR3B']],
    ['Thy3c', 'no-such-code', ['Thy3f', 'Thy3a']],
    ['Thy6', 'no-such-code', ['Bethesda VI', 'Thy5']],
    ['Thy2a', 'no-such-code', ['Thy2', 'Thy2c']],
    ['Thy 4/5', 'two-codes', ['Thy4', 'Thy5']],
    ['TIR3', 'letter-missing', ['TIR3A', 'TIR3B']],
    ['V', 'bare-roman', ['Thy5', 'TIR5', 'Bethesda V']],
    ['5', 'bare-number', ['Thy5', 'TIR5', 'Bethesda V']],
  ] as const)('%s is asked back: %s', (text, ask, options) => {
    expect(parseResult(text)).toMatchObject({ ok: false, ask, options });
  });

  it('a repeat after TIR1 is not due before one month (Adv Med 2019:3932721, table 1)', () => {
    expect(actionFor('TIR1').deadline).toEqual({ unit: 'days', notBefore: 31, latest: null });
    expect(actionFor('Thy1').deadline.notBefore).toBe(0);
  });

  it('FLUS is told to be a retired name, Bethesda I asks whether it was a cyst', () => {
    expect(understood('FLUS').notes).toEqual(['retired-name']);
    expect(understood('AUS').notes).toEqual([]);
    expect(understood('Bethesda I').notes).toEqual(['ask-if-cyst']);
  });
});

describe('risk of malignancy', () => {
  // Poller et al., Cancer Cytopathol 2020;128:36-42; all cases: UK department 2011-2014, PMID 28082414.
  it.each([
    ['Thy1', 12, [5, 22], 4],
    ['Thy2', 5, [3, 9], 1.4],
    ['Thy3a', 25, [20, 31], 14.5],
    ['Thy3f', 31, [24, 39], 26.7],
    ['Thy4', 79, [70, 87], null],
    ['Thy5', 98, [97, 99], null],
  ] as const)('%s: operated %s %% and all cases stand apart', (code, operated, confidence95, all) => {
    const risk = riskOf(code);
    expect(risk.histologyOnly).toMatchObject({ basis: 'histology-only', percent: operated, confidence95 });
    expect(risk.allCases?.percent ?? null).toBe(all);
    expect(risk.allCases?.basis ?? 'all-cases').toBe('all-cases');
    expect(risk.system).toBeNull();
  });

  // The same department's abstract gives Thy4 and Thy5 of operated nodules only: PMID 28082414.
  it.each([
    ['Thy2', null],
    ['Thy3a', 36.1],
    ['Thy3f', 33.3],
    ['Thy4', 81.8],
    ['Thy5', 100],
  ] as const)('%s: of operated nodules of one department %s %%, never told as of all', (code, percent) => {
    const risk = riskOf(code);
    expect(risk.histologyOnlyDepartment?.percent ?? null).toBe(percent);
    expect(risk.histologyOnlyDepartment?.basis ?? 'histology-only').toBe('histology-only');
    expect(risk.allCases?.percent).not.toBe(percent);
  });

  // Bethesda 2023: PMC10600596, table 3.
  it.each([
    ['Bethesda I', 13, [5, 20], 14, [0, 33]],
    ['Bethesda II', 4, [2, 7], 6, [0, 27]],
    ['Bethesda III', 22, [13, 30], 28, [11, 54]],
    ['Bethesda IV', 30, [23, 34], 50, [28, 100]],
    ['Bethesda V', 74, [67, 83], 81, [40, 100]],
    ['Bethesda VI', 97, [97, 100], 98, [86, 100]],
  ] as const)('%s: adults %s %%, children apart', (code, adult, adultRange, child, childRange) => {
    const risk = riskOf(code);
    expect(risk.system).toMatchObject({ percent: adult, range: adultRange });
    expect(risk.systemChildren).toMatchObject({ percent: child, range: childRange });
    expect([risk.histologyOnly, risk.allCases]).toEqual([null, null]);
  });

  // SIAPEC-AIT 2014: Insights Imaging 2021, table 1, as printed there.
  it.each([
    ['TIR2', { percent: null, range: null, below: 3 }],
    ['TIR3A', { percent: null, range: null, below: 10 }],
    ['TIR3B', { percent: null, range: [15, 30], below: null }],
    ['TIR4', { percent: null, range: [60, 80], below: null }],
    ['TIR5', { percent: 95, range: null, below: null }],
  ] as const)('%s: expected %j', (code, expected) => {
    expect(riskOf(code).system).toMatchObject(expected);
  });

  it('none is given where the table has none', () => {
    expect(riskOf('TIR1').system).toBeNull();
  });
});

// Haugen, Thyroid 2016;26:1, recommendation 23, from memory.
describe('a benign needle is looked at again by the ultrasound pattern', () => {
  it.each([
    [['high'], 'high', 'scan-and-needle', 0, 365],
    [['intermediate'], 'low-or-intermediate', 'scan', 365, 730],
    [['low'], 'low-or-intermediate', 'scan', 365, 730],
    [['low', 'intermediate'], 'low-or-intermediate', 'scan', 365, 730],
    [['very-low', 'low'], 'low-or-intermediate', 'scan', 365, 730],
    [['very-low'], 'very-low', 'scan-if-at-all', 730, null],
    [['benign'], 'very-low', 'scan-if-at-all', 730, null],
    [['low', 'high'], 'unknown', 'scan-now-for-the-pattern', 0, 365],
    [['unclassified'], 'unknown', 'scan-now-for-the-pattern', 0, 365],
    [[], 'unknown', 'scan-now-for-the-pattern', 0, 365],
  ] as const)('%j: pattern %s, %s, from %s to %s days', (levels, pattern, how, notBefore, latest) => {
    expect(benignReview(levels)).toMatchObject({ pattern, how, deadline: { unit: 'days', notBefore, latest } });
  });

  it('says that its figures are from memory', () => {
    for (const levels of [['high'], ['low'], ['very-low'], []]) {
      expect(benignReview(levels).source).toMatch(/from memory/);
    }
  });
});
