/** The page in each shipped language, on a push in two of them, each day others: on a telephone and on a small laptop it fits, is read by everybody, and begins a case. */
import { readdirSync, readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { partOfToday } from '../support/runs.ts';
import { chromiumPath, openChromium } from './support/chromium.ts';
import { barriersOf, overflowOf, smallTargetsOf } from './support/faults.ts';
import { serveBench } from './support/served-bench.ts';
import { screens, watchPage } from './support/watched-page.ts';

const locales = new URL('../../locales/', import.meta.url);
const tags = readdirSync(locales).filter((tag) => tag !== 'en');
const wordsOf = (tag: string) =>
  JSON.parse(readFileSync(new URL(`${tag}/bench.json`, locales), 'utf8')) as Readonly<Record<string, string>>;

describe.skipIf(chromiumPath === null)('the page in another language', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser?.close());

  it.each(partOfToday(tags, 3))('%s: fits, is read by everybody, and begins a case in its words', async (tag) => {
    const words = wordsOf(tag);
    const bench = await serveBench({ NECKLINE_BENCH_LANGUAGE: tag });
    try {
      for (const viewport of [screens[0], screens[2]]) {
        const { page, errors, elsewhere, transferred, close } = await watchPage(browser, bench.url, { viewport });
        const begin = page.getByRole('button', { name: words['scenario-begin']!, exact: true });
        await begin.waitFor();
        expect(await page.locator('html').getAttribute('dir')).toBe(tag === 'ar' ? 'rtl' : 'ltr');
        const faults = async () => [
          ...(await barriersOf(page)),
          ...(await overflowOf(page)),
          ...(await smallTargetsOf(page)),
        ];
        expect(await faults()).toEqual([]);
        expect(await transferred()).toBeLessThan(120_000);
        if (viewport !== screens[2]) {
          await close();
          continue;
        }
        await begin.click();
        await page.getByText(words['scenario-begin']!, { exact: true }).waitFor({ state: 'hidden' });
        expect(await faults()).toEqual([]);
        expect([errors, elsewhere]).toEqual([[], []]);
        await close();
      }
    } finally {
      await bench.close();
    }
  });
});
