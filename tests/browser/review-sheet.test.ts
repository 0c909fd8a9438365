import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCheck } from '../../src/cli/check.ts';
import { reviewSheet } from '../../src/cli/review-sheet.ts';
import { loadContent } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { madeUp, madeUpPackage, mark } from '../language/made-up.ts';
import { chromiumPath, openChromium } from './support/chromium.ts';

describe.skipIf(chromiumPath === null)('the review sheet in a browser', () => {
  const root = madeUpPackage('aftercare.neck');
  const folder = mkdtempSync(join(tmpdir(), 'neckline-sheet-'));
  const file = join(folder, 'sheet.html');
  let browser: Browser;
  let page: Page;
  const asked: string[] = [];
  const faults: string[] = [];
  beforeAll(async () => {
    writeFileSync(file, reviewSheet(loadContent(root), root, registry, madeUp));
    browser = await openChromium();
    page = await browser.newPage();
    page.on('request', (request) => asked.push(request.url()));
    page.on('pageerror', (error) => faults.push(error.message));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    await page.goto(pathToFileURL(file).href);
  });
  afterAll(async () => {
    await browser?.close();
    for (const one of [folder, root]) rmSync(one, { recursive: true, force: true });
  });

  async function saved(name: string): Promise<string> {
    const waiting = page.waitForEvent('download');
    await page.click('#save');
    const download = await waiting;
    expect(download.suggestedFilename()).toBe(`changes-${madeUp}.json`);
    const to = join(folder, name);
    await download.saveAs(to);
    return to;
  }

  async function check(changes: string): Promise<{ readonly exit: number; readonly out: string }> {
    let out = '';
    const write = { write: (text: string) => (out += text) };
    return { exit: await runCheck(['--changes', changes], { stdout: write, stderr: write }, { root, registry }), out };
  }

  const row = (key: string) => page.locator(`[data-key="${key}"]`);

  it('a text that is written and one that is changed are counted, saved, and read by check', async () => {
    await row('aftercare.neck').locator('summary').click();
    const english = (await row('aftercare.neck').locator('pre').textContent())!;
    await row('aftercare.neck').locator('textarea').fill(mark(english));
    const live = row('aftercare.neck').locator('.live .screen');
    expect(await live.locator('p').textContent()).toContain(mark('look now'));
    expect(await live.locator('small').textContent()).toMatch(/^\d+ of 160$/);
    await row('aftercare.lid').locator('summary').click();
    await row('aftercare.lid').locator('input').fill('Which lid? <b>');
    expect(await page.locator('#count').textContent()).toBe('2 changed');
    await page.click('#save');
    expect(await page.locator('#count').textContent()).toBe('Write your name first');
    await page.fill('#by', 'Ada Lumo');
    const { exit, out } = await check(await saved('good.json'));
    expect(out).toContain('aftercare.neck  changed by "Ada Lumo"\n  was      nothing\n');
    expect(out).toContain('aftercare.lid  remark by "Ada Lumo": "Which lid? <b>"\n');
    expect([exit, out]).toEqual([0, expect.stringMatching(/\n1 change, 1 remark, 0 problems\n$/)]);
  });

  it('who opens the saved file in a new sheet goes on where it was left', async () => {
    const good = join(folder, 'good.json');
    const before = JSON.parse(readFileSync(good, 'utf8')) as { readonly changes: readonly object[] };
    await page.goto(pathToFileURL(file).href);
    await page.setInputFiles('#open', good);
    await page.locator('#count', { hasText: '2 changed' }).waitFor();
    expect(JSON.parse(readFileSync(await saved('again.json'), 'utf8'))).toEqual(before);
    const [change] = before.changes;
    writeFileSync(
      good,
      JSON.stringify({
        ...before,
        changes: [
          { ...change, was: 'Older words.' },
          { ...change, key: 'new.gone' },
        ],
      }),
    );
    await page.setInputFiles('#open', good);
    const warned = '1 of the file are not in this sheet, 1 were said of other words than stand here: read them again';
    await page.locator('#count', { hasText: warned }).waitFor({ timeout: 5000 });
    writeFileSync(good, JSON.stringify({ ...before, locale: 'sw' }));
    await page.setInputFiles('#open', good);
    await page.locator('#count', { hasText: 'That file is of another language: sw' }).waitFor();
  });

  it('asks nothing of anybody and has no fault', () => {
    expect(asked.filter((url) => !/^(file|data):/.test(url))).toEqual([]);
    expect(faults).toEqual([]);
  });
});
