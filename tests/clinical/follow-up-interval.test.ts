import { describe, expect, it } from 'vitest';
import { policyOf } from '../../src/clinical/completions.ts';
import { followUpMonths } from '../../src/clinical/follow-up-interval.ts';
import { type PolicyId, policyIds } from '../../src/clinical/policies/policy.ts';

describe('when to look again', () => {
  it.each<[PolicyId, string[], readonly [number, number], number[]]>([
    // Scan years of ACR TI-RADS: 1, 3, 5 / 1, 2, 3, 5 / every year to 5 (Tessler 2017; McMaster Textbook).
    ['acr-2017', ['TR3'], [12, 12], [36, 60]],
    ['acr-2017', ['TR4'], [12, 12], [24, 36, 60]],
    ['acr-2017', ['TR5'], [12, 12], [24, 36, 48, 60]],
    ['eu-2017', ['4'], [12, 12], []],
    ['eu-2017', ['3', '5'], [6, 12], []],
    ['ata-2015', ['high'], [6, 12], []],
    ['ata-2015', ['low'], [12, 24], []],
    ['common-practice', [], [6, 12], []],
  ])('%s %j', (policy, levels, firstMonths, laterMonths) => {
    expect(followUpMonths(policy, levels)).toMatchObject({ firstMonths, laterMonths });
  });

  it.each(policyIds)('every level that %s can follow has an interval with a source', (id) => {
    const policy = policyOf(id);
    for (const grade of policy.grades) {
      const isFollowed = [4, 6, 9, 12, 16, 22].some(
        (mm) => policy.outcome(grade, { mm, solidPartMm: mm }) === 'follow-up',
      );
      if (!isFollowed) continue;
      const level = policy.level(grade);
      expect(followUpMonths(id, level === null ? [] : [level])?.source, String(grade)).toBeTruthy();
    }
  });

  it('a level that is never followed has none', () => {
    expect(followUpMonths('acr-2017', ['TR1'])).toBeNull();
  });
});
