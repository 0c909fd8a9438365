import { describe, expect, it } from 'vitest';
import { monthOf } from '../../src/setup/month.ts';
import { exampleAnswers } from './answers-fixture.ts';

const ofCase = { out: 68, in: 37 };

describe('a month by SMS', () => {
  it('is its cases and a morning text a day to each coordinator who has SMS', () => {
    expect(monthOf(exampleAnswers(), ofCase)).toMatchObject({ out: 20 * 68 + 30, in: 20 * 37 });
    const [first, ...rest] = exampleAnswers().people.toReversed();
    const onTelegram = [{ ...first!, addresses: ['telegram:7001007'] }, ...rest];
    expect(monthOf(exampleAnswers({ people: onTelegram }), ofCase).out).toBe(20 * 68);
  });

  it('costs what both ways cost, and nothing is said where nobody said a price', () => {
    const { money } = monthOf(exampleAnswers(), ofCase);
    expect(money?.ofCase).toBeCloseTo(68 * 0.04 + 37 * 0.02, 6);
    expect(money?.amount).toBeCloseTo(1390 * 0.04 + 740 * 0.02, 6);
    const { price: _, ...without } = exampleAnswers();
    expect(monthOf(without, ofCase).money).toBeNull();
  });

  it('is over before the line says that a fifth of the credit is left', () => {
    for (const casesAMonth of [1, 7, 20, 300]) {
      const { out, credit } = monthOf(exampleAnswers({ casesAMonth }), ofCase);
      expect(credit - out).toBeGreaterThanOrEqual(credit / 5);
      expect(credit % 100).toBe(0);
    }
  });
});
