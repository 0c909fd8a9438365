import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { capacityPage } from './capacity.ts';
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
    expect(last.chain.map((one) => one.rate)).toEqual([20, 50, 100, 200]);
    expect(last.people).toBe(32);
    expect(last.starts.people).toBe(100_000);
    expect(last.alarms.rate).toBe(300);
    expect(last.growth.lines).toHaveLength(5);
  });
});

describe('what a machine must hold', () => {
  const page = readFileSync(new URL('../../deploy/capacity.md', import.meta.url), 'utf8');

  it('stands in the papers as the last run gives it', () => {
    expect(page).toBe(capacityPage(last));
  });

  it('is worked out from the texts, the bytes and the processor time of that run', () => {
    const { heard, bytes } = last.growth.wholeCase;
    const perCase = Object.values(bytes).reduce((total, one) => total + one, 0);
    const country = page.split('\n').find((line) => line.startsWith('| a country |'))!;
    const cells = country.split('|').map((cell) => cell.trim());
    expect(cells[4]).toBe((500 * heard).toLocaleString('en'));
    expect(Number.parseFloat(cells[8]!)).toBeCloseTo((500 * 365 * perCase) / 1e9, -1);
    // 500 patients a day, a fifth in an hour, four times as dense in its busiest minute.
    expect(Number(cells[6])).toBeCloseTo((500 * heard * 0.2 * 4) / 3_600, 1);
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
