import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, openChromium } from './support/chromium.ts';
import { phoneOf, textsOf } from './support/desk.ts';
import { barriersOf, overflowOf, smallTargetsOf, unseenStopsOf } from './support/faults.ts';
import { keyboard, mouse } from './support/hands.ts';
import { Lesson } from './support/lesson.ts';
import { type ServedBench, serveBench } from './support/served-bench.ts';
import { screens, type WatchedPage, watchPage } from './support/watched-page.ts';

if (chromiumPath === null && process.env.CI) {
  describe('the project’s own runs', () => {
    it('have a browser', () => expect(chromiumPath).not.toBeNull());
  });
}

const faultsOf = async (page: Page) => ({
  barriers: await barriersOf(page),
  overflow: await overflowOf(page),
  small: await smallTargetsOf(page),
});
const none = { barriers: [], overflow: [], small: [] };

const nameOf = (hand: typeof mouse): string => (hand === mouse ? 'by clicking' : 'by keyboard');

/** Each screen sees both hands: one leads the guided case, the other a case in which the learner writes. */
const hands = {
  360: { guided: mouse, alone: keyboard },
  768: { guided: keyboard, alone: mouse },
  1366: { guided: mouse, alone: keyboard },
} as const;

describe.skipIf(chromiumPath === null)(`the page${chromiumPath === null ? ' (no Chromium is installed)' : ''}`, () => {
  let browser: Browser;
  let bench: ServedBench;
  beforeAll(async () => {
    [browser, bench] = await Promise.all([openChromium(), serveBench()]);
  });
  afterAll(async () => {
    await browser?.close();
    await bench?.close();
  });

  describe.each(screens)('on a screen of $width pixels', (viewport) => {
    const { guided, alone } = hands[viewport.width];
    let watched: WatchedPage;
    let page: Page;
    beforeAll(async () => {
      watched = await watchPage(browser, bench.url, { viewport });
      page = watched.page;
      await page.getByRole('button', { name: 'Begin: lead a patient' }).waitFor();
    });
    afterAll(() => watched.close());

    it('says what it is for in less than 120 kB', async () => {
      expect(await page.getByRole('region', { name: 'Begin', exact: true }).textContent()).toMatch(
        /lump[\s\S]*needle[\s\S]*laboratory/,
      );
      expect(await watched.transferred()).toBeLessThan(120_000);
    });

    it('is read by everybody, fits, and each control is large enough for a finger', async () => {
      expect(await faultsOf(page)).toEqual(none);
    });

    it('shows where the keyboard is, at every stop', async () => {
      const { stops, unseen } = await unseenStopsOf(page);
      expect(unseen).toEqual([]);
      expect(stops).toBeGreaterThan(20);
    });

    it(`leads a patient from the lump to the specialist, ${nameOf(guided)}`, async () => {
      const lesson = new Lesson(page, guided(page));
      await lesson.beginGuided();
      await lesson.lead({ until: 25 });
      await mouse(page).open('Decision');
      await page.getByRole('region', { name: 'Decision' }).getByRole('img').first().waitFor();
      await mouse(page).open('Table');
      await page.getByRole('region', { name: 'Table' }).getByText('THYROID RIGHT').waitFor();
      expect(await faultsOf(page)).toEqual(none);
      await mouse(page).open('Begin');
      await lesson.lead();
      expect(await page.getByRole('article', { name: 'Report' }).textContent()).toContain(
        'The whole case was right and in time.',
      );
      expect(await faultsOf(page)).toEqual(none);
      await mouse(page).open('Ada Lumo');
      expect((await textsOf(page, 'Ada Lumo').allTextContents()).join('\n')).toMatch(/CLOSED .*seen/);
      await lesson.leave();
    });

    it(`has a nurse write for herself while the doctor is silent, ${nameOf(alone)}`, async () => {
      const lesson = new Lesson(page, alone(page));
      await lesson.beginOther('The doctor is silent');
      await lesson.lead();
      expect(await page.getByRole('article', { name: 'Report' }).textContent()).toContain('0 missed');
      expect(lesson.sent.length).toBeGreaterThan(3);
      await lesson.leave();
    });

    it('begins anew when somebody asks twice, with empty phones at nine in the morning', async () => {
      await mouse(page).press(page.getByRole('button', { name: 'Begin anew' }));
      await keyboard(page).press(page.getByRole('button', { name: 'Throw away, begin anew' }));
      await page.getByLabel('Time of the line').filter({ hasText: /^09:0/ }).waitFor();
      await mouse(page).open('Ada Lumo');
      await expect.poll(() => textsOf(page, 'Ada Lumo').count()).toBe(0);
    });

    it('asked nobody but the line, and broke none of its own rules', () => {
      expect(watched.elsewhere).toEqual([]);
      expect(watched.errors).toEqual([]);
    });
  });

  it('is read by everybody in the dark', async () => {
    const { page, close } = await watchPage(browser, bench.url, { viewport: screens[1], colorScheme: 'dark' });
    await mouse(page).open('Ada Lumo');
    await mouse(page).send(phoneOf(page, 'Ada Lumo').getByRole('textbox'), 'NEW');
    await textsOf(page, 'Ada Lumo').filter({ hasText: 'NEW PATIENT', visible: true }).waitFor();
    expect(await barriersOf(page)).toEqual([]);
    await close();
  });
});
