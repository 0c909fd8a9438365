/** Where things stand on the page, by roles and names. */
import type { Locator, Page } from 'playwright-core';

export const phoneOf = (page: Page, name: string): Locator => page.getByRole('region', { name: `Phone of ${name}` });

/** All texts of a phone; a small one shows one at a time. */
export const textsOf = (page: Page, name: string): Locator =>
  page.getByRole('list', { name: `Texts on the phone of ${name}` }).getByRole('listitem', { includeHidden: true });

/** The way to a card by the mouse: the register above the desk. */
export const tabOf = (page: Page, name: string): Locator =>
  page.getByRole('navigation', { name: 'Cards on the desk' }).getByRole('button', { name: new RegExp(`^${name}`) });

/** The way to a card by keyboard. */
export const skipTo = (page: Page, name: string): Locator =>
  page.getByRole('navigation', { name: 'Skip to' }).getByRole('link', { name: `Skip to ${name}` });
