/** What makes a page hard to use for somebody, each as a line that says where. Empty = nothing was found. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

interface Axe {
  run(options: { readonly resultTypes: readonly string[] }): Promise<{
    readonly violations: readonly {
      readonly id: string;
      readonly help: string;
      readonly nodes: readonly { readonly target: readonly unknown[]; readonly failureSummary?: string }[];
    }[];
  }>;
}

/** Every rule of axe-core, its best practices too. */
export async function barriersOf(page: Page): Promise<readonly string[]> {
  // The page's own policy forbids strange scripts; what the debugger evaluates is not the page's.
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe);
  const { violations } = await page.evaluate(() =>
    (globalThis as unknown as { readonly axe: Axe }).axe.run({ resultTypes: ['violations'] }),
  );
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ target, failureSummary = '' }) => `${id}: ${help}: ${target.join(' ')}: ${failureSummary}`),
  );
}

/** What is wider than the screen, outside of what scrolls by itself. */
export function overflowOf(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const found: string[] = [];
    const { scrollWidth, clientWidth } = document.documentElement;
    if (scrollWidth > clientWidth) found.push(`the page is ${scrollWidth} px wide on ${clientWidth}`);
    const scrolls = (one: Element): boolean => {
      for (let up = one.parentElement; up && up !== document.body; up = up.parentElement) {
        if (/auto|scroll/.test(getComputedStyle(up).overflowX)) return true;
      }
      return false;
    };
    for (const one of document.body.querySelectorAll('*')) {
      const { right, left, width, height } = one.getBoundingClientRect();
      // A pixel is for a screen reader; what stands wholly beside the screen waits for the focus.
      if (width <= 1 || height <= 1 || right <= 0 || (right <= clientWidth + 0.5 && left >= -0.5)) continue;
      if (scrolls(one)) continue;
      const { tagName, textContent } = one;
      found.push(`${tagName.toLowerCase()} from ${left} to ${right}: ${textContent?.trim().slice(0, 40)}`);
    }
    return found;
  });
}

/** Least size of what is touched, CSS pixels. */
const targetAtLeast = 44;

/** What is too small for a finger: a control, or the label that stands for it. Links in a sentence are as high as it is. */
export function smallTargetsOf(page: Page): Promise<readonly string[]> {
  return page.evaluate((least) => {
    const found: string[] = [];
    for (const one of document.querySelectorAll('button, select, textarea, input, summary, [role=button], nav a')) {
      if (!one.checkVisibility({ visibilityProperty: true })) continue;
      const labels = 'labels' in one ? [...((one.labels ?? []) as NodeListOf<HTMLLabelElement>)] : [];
      const boxes = [one, ...labels].map((each) => each.getBoundingClientRect());
      const { width, height, right } = boxes[0]!;
      // For a screen reader, or beside the screen until it has the focus.
      if (width <= 1 || height <= 1 || right <= 0) continue;
      if (boxes.some((box) => box.width >= least - 0.5 && box.height >= least - 0.5)) continue;
      const name = one.getAttribute('aria-label') ?? one.textContent?.trim().slice(0, 30);
      found.push(`${one.tagName.toLowerCase()} "${name}" is ${Math.round(width)} x ${Math.round(height)}`);
    }
    return found;
  }, targetAtLeast);
}

/**
 * Goes through the page by the tabulator and back to its beginning: stops of which one does not see that they have the focus,
 * or that are off the screen. `stops` is how many there were.
 */
export async function unseenStopsOf(
  page: Page,
): Promise<{ readonly stops: number; readonly unseen: readonly string[] }> {
  const unseen: string[] = [];
  await page.evaluate(() => {
    (document.activeElement as HTMLElement | null)?.blur();
    scrollTo(0, 0);
  });
  // More stops than this nobody would go through.
  for (let stops = 0; stops < 300; stops += 1) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => {
      const one = document.activeElement;
      if (!one || one === document.body) return null;
      const again = one.hasAttribute('data-stop');
      one.setAttribute('data-stop', '');
      const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(one);
      const isMarked = (outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2) || boxShadow !== 'none';
      const { top, bottom, left, right } = one.getBoundingClientRect();
      const isOn = bottom > 0 && right > 0 && top < innerHeight && left < innerWidth;
      const name = one.getAttribute('aria-label') ?? one.textContent?.trim().slice(0, 30);
      const what = `${one.tagName.toLowerCase()} "${name}"`;
      return { again, fault: isMarked ? (isOn ? null : `${what} is off the screen`) : `${what} is not marked` };
    });
    if (stop === null || stop.again) return { stops, unseen };
    if (stop.fault) unseen.push(stop.fault);
  }
  return { stops: 300, unseen };
}
