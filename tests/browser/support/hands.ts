/** Who goes through the page: by the mouse, or by the keyboard alone. Both find things by what is written on them. */
import type { Locator, Page } from 'playwright-core';
import { skipTo, tabOf } from './desk.ts';

export interface Hand {
  /** Presses a button or follows a link. */
  press(target: Locator): Promise<void>;
  /** Opens a card of the desk. */
  open(name: string): Promise<void>;
  /** Puts a text into a field and sends it. */
  send(field: Locator, text: string): Promise<void>;
}

export function mouse(page: Page): Hand {
  return {
    press: (target) => target.click(),
    open: async (name) => {
      const tab = tabOf(page, name);
      // A card that lies open is looked at, not asked for.
      if ((await tab.getAttribute('aria-pressed')) !== 'true') await tab.click();
    },
    send: async (field, text) => {
      await field.fill(text);
      await field.press('Enter');
    },
  };
}

/** Nobody goes further than this from one thing to the next, stops of the tabulator. */
const stopsAtMost = 80;

export function keyboard(page: Page): Hand {
  const reach = async (target: Locator): Promise<void> => {
    await target.waitFor();
    for (let stops = 0; stops <= stopsAtMost; stops += 1) {
      if (await target.evaluate((one) => one === document.activeElement)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`${target} is not reached by ${stopsAtMost} stops of the tabulator`);
  };
  const press = async (target: Locator): Promise<void> => {
    await reach(target);
    await page.keyboard.press('Enter');
  };
  return {
    press,
    open: (name) => press(skipTo(page, name)),
    send: async (field, text) => {
      await reach(field);
      await page.keyboard.type(text);
      await page.keyboard.press('Enter');
    },
  };
}
