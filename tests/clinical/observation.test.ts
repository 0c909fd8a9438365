import { describe, expect, it } from 'vitest';
import { watchMinutes } from '../../src/clinical/observation.ts';

const NONE = {
  bloodSeen: false,
  cystic: false,
  passes: 1,
  bloodThinner: false,
  bleedingDisorder: false,
  highPressure: false,
} as const;

describe('watch after sampling', () => {
  it('lasts 30 min without any risk, three passes included', () => {
    expect(watchMinutes({ ...NONE, passes: 3 })).toEqual({ minutes: 30, because: [] });
  });

  it.each([
    [{ bloodSeen: true }, 'blood-seen'],
    [{ cystic: true }, 'cystic'],
    [{ passes: 4 }, 'over-three-passes'],
    [{ bloodThinner: true }, 'blood-thinner'],
    [{ bleedingDisorder: true }, 'bleeding-disorder'],
    [{ highPressure: true }, 'high-pressure'],
    [{ bloodThinner: 'unknown' }, 'blood-thinner'],
    [{ cystic: 'unknown' }, 'cystic'],
    [{ passes: Number.NaN }, 'over-three-passes'],
  ] as const)('lasts 60 min with %j', (risk, reason) => {
    expect(watchMinutes({ ...NONE, ...risk })).toEqual({ minutes: 60, because: [reason] });
  });

  it('is not lengthened by a pressure that nobody measured', () => {
    expect(watchMinutes({ ...NONE, highPressure: 'not-measured' }).minutes).toBe(30);
  });
});
