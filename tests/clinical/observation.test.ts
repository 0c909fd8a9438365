import { describe, expect, it } from 'vitest';
import { watchLength } from '../../src/clinical/observation.ts';

const NONE = {
  bloodSeen: false,
  cystic: false,
  passes: 1,
  bloodThinner: false,
  bleedingDisorder: false,
  highPressure: false,
  largestMm: 22,
  thickNeedle: false,
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
    [{ largestMm: 40 }, 'large'],
    [{ thickNeedle: true }, 'thick-needle'],
    [{ bloodSeen: 'unknown' }, 'blood-seen-unknown'],
    [{ bloodThinner: 'unknown' }, 'blood-thinner-unknown'],
    [{ bleedingDisorder: 'unknown' }, 'bleeding-disorder-unknown'],
    [{ cystic: 'unknown' }, 'cystic-unknown'],
    [{ largestMm: 'unknown' }, 'large-unknown'],
    [{ thickNeedle: 'unknown' }, 'thick-needle-unknown'],
    [{ passes: Number.NaN }, 'over-three-passes'],
  ] as const)('is long with %j', (risk, reason) => {
    expect(watchLength({ ...NONE, ...risk })).toEqual({ length: 'long', because: [reason] });
  });

  it('is short just under the size from which it is longer', () => {
    expect(watchLength({ ...NONE, largestMm: 39.9 }).length).toBe('short');
  });

  it('tells what is known before what is not, and never the one as the other', () => {
    const { because } = watchLength({ ...NONE, cystic: 'unknown', bloodThinner: 'unknown', largestMm: 60 });
    expect(because).toEqual(['large', 'cystic-unknown', 'blood-thinner-unknown']);
  });

  it('is not lengthened by a pressure that nobody measured', () => {
    expect(watchLength({ ...NONE, highPressure: 'not-measured' }).length).toBe('short');
  });
});
