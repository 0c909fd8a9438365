import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { Report } from './report.ts';
import { percentile, spread } from './statistics.ts';
import { speedTables } from './tables.ts';

const last = JSON.parse(readFileSync(new URL('last.json', import.meta.url), 'utf8')) as Report;

describe('the tables of a run', () => {
  it('hold the ratios that its figures give, with what was wanted', () => {
    const [short] = last.handled;
    const { line, grammy } = short!.together;
    const row = speedTables(last)
      ['speed-handled']!.split('\n')
      .find((one) => one.includes('12 questions, 32 people'));
    expect(row).toContain(`| ${(line.rate.median / grammy.rate.median).toFixed(2)} | 2.00 |`);
  });

  it('come from a run of the whole plan', () => {
    expect(last.handled.map((one) => one.questions)).toEqual([12, 40]);
    expect(last.chain.map((one) => one.rate)).toEqual([20, 50, 100]);
    expect(last.people).toBe(32);
    expect(last.starts.people).toBe(100_000);
  });
});

describe('medians and percentiles', () => {
  it('are those of the list, whatever its order', () => {
    expect(spread([9, 1, 5])).toEqual({ median: 5, least: 1, most: 9 });
    expect(spread([4, 1, 3, 2])).toEqual({ median: 2.5, least: 1, most: 4 });
    const hundred = Array.from({ length: 100 }, (_, index) => 100 - index);
    expect(percentile(hundred, 0.5)).toBe(50);
    expect(percentile(hundred, 0.99)).toBe(99);
    expect(percentile([], 0.99)).toBe(0);
  });
});
