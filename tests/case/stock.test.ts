import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import { countStock, daysLeft, judgeStock, noStock, patientsLeft, takeOff, usedBy } from '../../src/case/stock.ts';
import { lump } from '../support/targets.ts';

const day = 86_400_000;
const now = Date.UTC(2030, 2, 12);
const rules = {
  lowAt: { slides: 20, needles: 10, syringes: 10, fixative: 3 },
  perPatient: { slides: 4, needles: 2, syringes: 2, fixative: 1 },
  leadMs: 14 * day,
  lookBackMs: 28 * day,
  expiryAheadMs: 30 * day,
  endOf: (month: string) => Date.UTC(Number(month.slice(0, 4)), Number(month.slice(5)), 1),
};
const counted = (item: 'slides' | 'needles' | 'fixative', count: number, expires: string | null = null) => ({
  item,
  count,
  added: false,
  expires,
});

describe('what a sampling takes', () => {
  const code: CaseEvent = {
    type: 'code-issued',
    specimen: 's1',
    target: lump('n1'),
    code: '48291354',
    technique: 'capillary',
    slides: 4,
  };
  const fixed = (fixative: 'alcohol' | 'spray' | 'air-dried'): CaseEvent => ({
    type: 'slides-fixed',
    specimen: 's1',
    fixative,
    slides: ['wet-at-once'],
  });
  it.each([
    ['slides, once they are pencilled', code, { slides: 4 }],
    [
      'a needle and a syringe a puncture',
      { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'blood' },
      { needles: 1, syringes: 1 },
    ],
    ['fixative', fixed('alcohol'), { fixative: 1 }],
    ['fixative, sprayed', fixed('spray'), { fixative: 1 }],
    ['no fixative where slides are dried', fixed('air-dried'), {}],
    ['nothing by an answer', { type: 'answered', field: 'tsh', item: null, value: 'low' }, {}],
  ] as const)('%s', (_what, event, used) => {
    expect(usedBy(event as CaseEvent)).toEqual(used);
  });
});

describe('a stock', () => {
  it('never falls below nothing, and an item that was never counted stays uncounted', () => {
    const stock = countStock(noStock('oruma'), [counted('needles', 1)], now);
    const after = takeOff(stock, { needles: 3, slides: 4 }, now, rules.lookBackMs);
    expect(after.lines.needles?.count).toBe(0);
    expect(after.lines.slides).toBeUndefined();
  });

  it('forgets uses older than it looks back', () => {
    let stock = countStock(noStock('oruma'), [counted('needles', 100)], now - 60 * day);
    stock = takeOff(stock, { needles: 28 }, now - 40 * day, rules.lookBackMs);
    stock = takeOff(stock, { needles: 14 }, now, rules.lookBackMs);
    expect(stock.uses.length).toBe(1);
    // 58 left, 14 in 28 days.
    expect(daysLeft(stock, 'needles', now, rules)).toBe(116);
  });

  it('is enough for as many patients as its scarcest item', () => {
    const stock = countStock(noStock('oruma'), [counted('slides', 40), counted('needles', 7)], now);
    expect(patientsLeft(stock, rules)).toBe(3);
    expect(patientsLeft(noStock('oruma'), rules)).toBeNull();
  });

  it('says low at the limit, once; out as a worse state; and anew after a new count', () => {
    const first = judgeStock(countStock(noStock('oruma'), [counted('needles', 10)], now), now, rules);
    expect(first.alarms).toEqual([{ item: 'needles', what: 'low' }]);
    const second = judgeStock(takeOff(first.stock, { needles: 1 }, now, rules.lookBackMs), now, rules);
    expect(second.alarms).toEqual([]);
    const out = judgeStock(takeOff(second.stock, { needles: 8 }, now, rules.lookBackMs), now, rules);
    expect(out.alarms).toEqual([{ item: 'needles', what: 'out' }]);
    expect(judgeStock(countStock(out.stock, [counted('needles', 11)], now), now, rules).alarms).toEqual([]);
  });

  it('says low before the limit where use is so quick that no delivery comes in time', () => {
    let stock = countStock(noStock('oruma'), [counted('needles', 100)], now - day);
    stock = takeOff(stock, { needles: 70 }, now, rules.lookBackMs);
    // 30 left, 70 in 28 days: 12 days, and a delivery takes 14.
    expect(judgeStock(stock, now, rules).alarms).toEqual([{ item: 'needles', what: 'low' }]);
  });

  it('says an expiry a month ahead and at the end of its month, each once; a new month begins anew', () => {
    const stock = countStock(noStock('oruma'), [counted('fixative', 20, '2030-03')], now - 20 * day);
    expect(judgeStock(stock, Date.UTC(2030, 2, 1), rules).alarms).toEqual([]);
    const soon = judgeStock(stock, now, rules);
    expect(soon.alarms).toEqual([{ item: 'fixative', what: 'expires-soon' }]);
    expect(judgeStock(soon.stock, Date.UTC(2030, 2, 31), rules).alarms).toEqual([]);
    const over = judgeStock(soon.stock, Date.UTC(2030, 3, 1), rules);
    expect(over.alarms).toEqual([{ item: 'fixative', what: 'expired' }]);
    const anew = countStock(over.stock, [counted('fixative', 20, '2031-03')], now);
    expect(judgeStock(anew, now, rules).alarms).toEqual([]);
    expect(countStock(over.stock, [counted('fixative', 9)], now).lines.fixative?.toldExpiry).toBe('over');
  });
});
