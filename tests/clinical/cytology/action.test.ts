import { describe, expect, it } from 'vitest';
import { actionFor } from '../../../src/clinical/cytology/action.ts';
import {
  BETHESDA_NUMERALS,
  type CytologyCode,
  THY_CODES,
  TIR_CODES,
} from '../../../src/clinical/cytology/categories.ts';
import { canonicalOf, crosswalk } from '../../../src/clinical/cytology/crosswalk.ts';
import { contradictsFindings } from '../../../src/clinical/cytology/discordance.ts';
import { tumourTypes } from '../../../src/clinical/cytology/result-words.ts';

const EVERY: CytologyCode[] = [
  ...THY_CODES,
  ...TIR_CODES,
  ...BETHESDA_NUMERALS.map((numeral) => `Bethesda ${numeral}` as const),
];

describe('what a category asks for', () => {
  it.each(['Thy1', 'Thy1c', 'Bethesda I', 'TIR1', 'TIR1C'] as const)('a second %s is referred', (code) => {
    expect(actionFor(code).next).not.toBe('refer-after-second-non-diagnostic');
    expect(actionFor(code, { earlierNonDiagnostic: 1 }).next).toBe('refer-after-second-non-diagnostic');
  });

  it('a diagnostic result after a non-diagnostic one keeps its own action', () => {
    expect(actionFor('Thy4', { earlierNonDiagnostic: 1, earlierAtypia: 1 })).toEqual(actionFor('Thy4'));
  });

  it.each(['Thy3a', 'Bethesda III', 'TIR3A'] as const)('a second %s is referred, not needled again first', (code) => {
    expect(actionFor(code).next).toBe('repeat-and-refer');
    expect(actionFor(code, { earlierAtypia: 1 })).toMatchObject({ next: 'refer-after-second-atypia', mdt: 'yes' });
  });

  it('Thy3f is referred the first time, whatever came before', () => {
    expect(actionFor('Thy3f', { earlierAtypia: 1 }).next).toBe('refer-diagnostic-surgery');
  });

  it.each(['Thy1', 'Thy3a', 'Thy3f', 'Thy4', 'Thy5'] as const)('%s with a named type is pressing', (code) => {
    for (const type of tumourTypes) {
      const action = actionFor(code, { earlierNonDiagnostic: 1, types: [type] });
      expect(action).toMatchObject({ next: 'refer-urgent-by-type', acknowledge: 'today', secondChannel: true });
    }
    for (const type of ['anaplastic', 'lymphoma'] as const) {
      expect(actionFor(code, { types: [type] }).deadline).toEqual({ unit: 'days', notBefore: 0, latest: 0 });
    }
  });

  it('a type named beside a benign category lowers nothing and does not make it Thy4: it contradicts the result', () => {
    expect(actionFor('Thy2', { types: ['lymphoma'] })).toEqual(actionFor('Thy2'));
  });

  it('no source is a revision site alone', () => {
    for (const code of EVERY) {
      const { source } = actionFor(code);
      if (source.includes('omfshandbook')) expect(source).toMatch(/to be checked in the primary text/);
    }
  });

  it.each(EVERY)('%s: only a benign result may pass without a doctor', (code) => {
    expect(actionFor(code).doctorAcknowledges).toBe(!canonicalOf(code).startsWith('Thy2'));
  });

  it.each(EVERY)('%s: suspicion and cancer are acknowledged today and told by voice too', (code) => {
    const grave = /^Thy[45]$/.test(canonicalOf(code));
    expect(actionFor(code).secondChannel).toBe(grave);
    expect(actionFor(code).acknowledge === 'today').toBe(grave);
  });

  it.each(EVERY)('%s is found again in its own system by the crosswalk', (code) => {
    const same = crosswalk(canonicalOf(code));
    const all: string[] = [...same.thy, ...same.tir, ...same.bethesda.map((numeral) => `Bethesda ${numeral}`)];
    expect(all).toContain(code);
  });
});

describe('a benign result against the findings', () => {
  const calm = {
    dangerSigns: [],
    growth: null,
    namesType: false,
    ataLevels: ['low'],
    euLevels: ['3'],
    acrLevels: ['TR3'],
  };

  it('agrees with calm findings', () => {
    expect(contradictsFindings('Thy2', calm)).toEqual({ contradicts: 'no', because: [] });
  });

  it.each([
    [{ dangerSigns: ['hard-or-fixed'] }, 'danger-signs'],
    [{ growth: 'grown' as const }, 'grown'],
    [{ namesType: true }, 'named-type'],
    [{ ataLevels: ['high'] }, 'ata-high'],
    [{ euLevels: ['5'] }, 'eu-5'],
    [{ acrLevels: ['TR5'] }, 'tr5'],
  ])('%j contradicts it', (finding, because) => {
    for (const category of ['Thy2', 'Thy2c', 'Thy2/2c'] as const) {
      expect(contradictsFindings(category, { ...calm, ...finding })).toEqual({
        contradicts: 'yes',
        because: [because],
      });
    }
  });

  it('a level that unknown features leave open makes it possible, no more and no less', () => {
    expect(contradictsFindings('Thy2', { ...calm, euLevels: ['4', '5'] })).toEqual({
      contradicts: 'possible',
      because: ['eu-5'],
    });
    expect(contradictsFindings('Thy2', { ...calm, dangerSigns: ['unknown'] }).contradicts).toBe('possible');
    expect(contradictsFindings('Thy2', { ...calm, growth: 'not-known' })).toEqual({
      contradicts: 'possible',
      because: ['grown'],
    });
    expect(contradictsFindings('Thy2', { ...calm, growth: 'not-grown' }).contradicts).toBe('no');
  });

  it('other categories do not contradict suspicious findings', () => {
    expect(contradictsFindings('Thy1', { ...calm, acrLevels: ['TR5'] }).contradicts).toBe('no');
    expect(contradictsFindings('Thy5', { ...calm, acrLevels: ['TR5'] }).contradicts).toBe('no');
  });
});
