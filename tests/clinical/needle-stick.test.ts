import { describe, expect, it } from 'vitest';
import { needleStickAdvice } from '../../src/clinical/needle-stick.ts';

describe('needle-stick of the worker', () => {
  // WHO, HIV PEP guidelines 2024: best within 24 h, not after 72 h. CDC, MMWR 62 RR-10: hepatitis B to day 7.
  it.each([
    [0.1, 'now', 'best-time', ['hiv-prophylaxis-now', 'late-is-worse']],
    [23, 'now', 'best-time', ['hiv-prophylaxis-now', 'late-is-worse']],
    [24, 'now', 'best-time', ['hiv-prophylaxis-now']],
    [26, 'still-possible', 'still-possible', ['hiv-prophylaxis-still-possible', 'go-now']],
    [71.9, 'still-possible', 'still-possible', ['hiv-prophylaxis-still-possible', 'go-now']],
    [72.0, 'still-possible', 'still-possible', ['hiv-prophylaxis-still-possible', 'go-now']],
    [72.1, 'passed', 'still-possible', ['hiv-prophylaxis-window-passed', 'go-now', 'hepatitis-b-treatable-to-day-7']],
    [168, 'passed', 'still-possible', ['hepatitis-b-treatable-to-day-7']],
    [169, 'passed', 'benefit-unknown', ['go-now', 'hepatitis-b-benefit-unknown']],
  ] as const)('%s h after: HIV prophylaxis %s, hepatitis B %s', (hours, hiv, hepatitisB, steps) => {
    const advice = needleStickAdvice(hours);
    expect(advice).toMatchObject({ hiv, hepatitisB });
    expect(advice.steps).toEqual(expect.arrayContaining([...steps, 'wash-soap-running-water', 'baseline-tests']));
  });

  it.each(['unknown', -1, Number.NaN] as const)('a time of %s never closes the window', (hours) => {
    expect(needleStickAdvice(hours)).toMatchObject({ hiv: 'still-possible' });
    expect(needleStickAdvice(hours).steps).toContain('go-now');
  });

  it('washing comes before anything else', () => {
    for (const hours of [0, 50, 100, 500]) expect(needleStickAdvice(hours).steps[0]).toBe('wash-soap-running-water');
  });
});
