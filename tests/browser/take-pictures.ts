/** Takes the pictures of the README from the page itself: `npm run pictures`. */
import { fileURLToPath } from 'node:url';
import { openChromium } from './support/chromium.ts';
import { mouse } from './support/hands.ts';
import { Lesson } from './support/lesson.ts';
import { serveBench } from './support/served-bench.ts';
import { screens, watchPage } from './support/watched-page.ts';

const [telephone, , laptop] = screens;
const fileOf = (name: string): string => fileURLToPath(new URL(`../../deploy/pictures/${name}.png`, import.meta.url));

const [browser, bench] = await Promise.all([openChromium(), serveBench()]);
try {
  const { page } = await watchPage(browser, bench.url, { viewport: laptop });
  const lesson = new Lesson(page, mouse(page));
  await lesson.beginGuided();
  // As far as the label: slides, jar and decision are on the desk then.
  await lesson.lead({ until: 25 });
  for (const card of ['Ada Lumo', 'Decision', 'Table', 'Begin']) await mouse(page).open(card);
  await page.getByRole('region', { name: 'Table' }).getByText('THYROID RIGHT').waitFor();
  await page.screenshot({ path: fileOf('bench-label') });
  await page.setViewportSize(telephone);
  await mouse(page).open('Ada Lumo');
  await page.screenshot({ path: fileOf('bench-telephone') });
} finally {
  await browser.close();
  await bench.close();
}
