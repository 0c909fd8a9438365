import { describe, expect, it } from 'vitest';
import { recent } from '../../src/store/recent.ts';

const filled = (limit: number, upTo: number) => {
  const kept = recent<number, string>(limit);
  for (let key = 0; key < upTo; key += 1) kept.put(key, `v${key}`);
  const all = Array.from({ length: upTo }, (_, key) => key);
  return { kept, all };
};

describe('what was used lately', () => {
  it('is kept to the limit, never more, however much goes by', () => {
    const { kept, all } = filled(10, 1_000);
    const there = all.filter((key) => kept.get(key) !== undefined);
    expect(there.length).toBeLessThanOrEqual(10);
    expect(there).toEqual(expect.arrayContaining([995, 996, 997, 998, 999]));
  });

  it('stays while it is used, whatever else goes by', () => {
    const { kept } = filled(10, 10);
    for (let key = 10; key < 500; key += 1) {
      expect(kept.get(9)).toBe('v9');
      kept.put(key, `v${key}`);
    }
    expect(kept.get(9)).toBe('v9');
  });

  it('is the newest value, also of one that was put long before', () => {
    const { kept } = filled(10, 6);
    kept.put(0, 'newer');
    for (let key = 6; key < 9; key += 1) kept.put(key, `v${key}`);
    expect(kept.get(0)).toBe('newer');
  });

  it('is gone once it is forgotten, in whichever half it lay', () => {
    const { kept, all } = filled(10, 8);
    for (const key of all) kept.forget(key);
    expect(all.filter((key) => kept.get(key) !== undefined)).toEqual([]);
  });
});
