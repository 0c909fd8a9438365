import { describe, expect, it } from 'vitest';
import { watchLength } from '../../src/clinical/observation.ts';

const NONE = {
  bloodSeen: false,
  cystic: false,
  passes: 1,
  largestMm: 22,
  thickNeedle: false,
  bloodThinner: false,
  bleedingDisorder: false,
  highPressure: false,
} as const;

describe('watch after sampling', () => {
  it('is short without any risk, three passes included', () => {
    expect(watchLength({ ...NONE, passes: 3 })).toEqual({ length: 'short', because: [] });
  });

  it.each([
    [{ bloodSeen: true }, 'blood-seen'],
    [{ cystic: true }, 'cystic'],
    [{ passes: 4 }, 'over-three-passes'],
    [{ bloodThinner: true }, 'blood-thinner'],
    [{ bleedingDisorder: true }, 'bleeding-disorder'],
    [{ highPressure: true }, 'high-pressure'],
    [{ bloodThinner: 'unknown' }, 'bleeding-unknown'],
    [{ bleedingDisorder: 'unknown' }, 'bleeding-unknown'],
    [{ cystic: 'unknown' }, 'inside-unknown'],
    [{ largestMm: 40 }, 'large'],
    [{ thickNeedle: true }, 'thick-needle'],
    [{ passes: Number.NaN }, 'over-three-passes'],
  ] as const)('is long with %j', (risk, reason) => {
    expect(watchLength({ ...NONE, ...risk })).toEqual({ length: 'long', because: [reason] });
  });

  it('is not lengthened by a pressure that nobody measured', () => {
    expect(watchLength({ ...NONE, highPressure: 'not-measured' }).length).toBe('short');
  });
});
