import { describe, expect, it } from 'vitest';
import type { Findings } from '../../src/clinical/findings.ts';
import { weighCase } from '../../src/clinical/indication.ts';

const plain = {
  composition: 'solid',
  echogenicity: 'isoechoic',
  shape: 'wider-than-tall',
  margin: 'smooth',
  foci: [],
} as const;
const suspicious = { ...plain, echogenicity: 'hypoechoic', margin: 'irregular', foci: ['punctate'] } as const;

describe('which of two solid nodules is proposed first', () => {
  it('the more suspicious one, though the other is larger (Tessler 2017: the highest scores, not the largest)', () => {
    const findings = {
      nodules: [
        { id: 'n1', mm: [30, 20, 20], ...plain },
        { id: 'n2', mm: [22, 15, 14], ...suspicious },
      ],
    } as unknown as Findings;
    expect(weighCase(findings, 'common-practice').selection.proposed).toEqual(['n2', 'n1']);
  });

  it('of equal looks the larger one', () => {
    const findings = {
      nodules: [
        { id: 'n1', mm: [22, 15, 14], ...plain },
        { id: 'n2', mm: [30, 20, 20], ...plain },
      ],
    } as unknown as Findings;
    expect(weighCase(findings, 'common-practice').selection.proposed).toEqual(['n2', 'n1']);
  });
});
