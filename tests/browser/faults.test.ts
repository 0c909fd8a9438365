import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, openChromium } from './support/chromium.ts';
import { barriersOf, overflowOf, smallTargetsOf, unseenStopsOf } from './support/faults.ts';

describe.skipIf(chromiumPath === null)('what is looked for on the page is found on a bad one', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await openChromium();
    page = await browser.newPage({ viewport: { width: 360, height: 640 } });
    await page.setContent(`<html lang="en"><title>Bad</title><main><h1>Bad</h1>
      <p style="width: 500px">wide</p><p style="color: #999; background: #aaa">pale</p>
      <button style="width: 20px; height: 20px; outline: none">a</button><button style="min-height: 44px">good</button>
      </main></html>`);
  });
  afterAll(() => browser?.close());

  it('letters too pale to read', async () => {
    expect(await barriersOf(page)).toEqual([expect.stringMatching(/^color-contrast: /)]);
  });

  it('what is wider than the screen', async () => {
    expect(await overflowOf(page)).toEqual(['the page is 508 px wide on 360', 'p from 8 to 508: wide']);
  });

  it('a button too small for a finger', async () => {
    expect(await smallTargetsOf(page)).toEqual(['button "a" is 20 x 20']);
  });

  it('a button that does not show its focus', async () => {
    const { stops, unseen } = await unseenStopsOf(page);
    expect(stops).toBe(2);
    expect(unseen).toContain('button "a" is not marked');
  });
});
