/** How urgent a text is: a shape and a word, so that colour alone says nothing. */
import type { Urgency } from './contract.ts';
import { draw, el } from './dom.ts';
import type { Say } from './words.ts';

const order: readonly Urgency[] = ['now', 'today', 'plain'];

/** The most urgent of all; plain for none. */
export function mostUrgent(all: readonly Urgency[]): Urgency {
  return order.find((one) => all.includes(one)) ?? 'plain';
}

/** A filled peak for now, a half-filled round for today. */
function shapeOf(urgency: 'now' | 'today'): SVGElement {
  const shape = draw('svg', {
    viewBox: '0 0 16 16',
    width: 14,
    height: 14,
    'aria-hidden': 'true',
    class: 'mark-shape',
  });
  if (urgency === 'now') {
    shape.append(draw('path', { d: 'M8 1 15 15H1Z', fill: 'currentColor' }));
  } else {
    shape.append(
      draw('circle', { cx: 8, cy: 8, r: 6.5, fill: 'none', stroke: 'currentColor', 'stroke-width': 1.8 }),
      draw('path', { d: 'M8 1.5A6.5 6.5 0 0 1 8 14.5Z', fill: 'currentColor' }),
    );
  }
  return shape;
}

/** The mark of a text; null where it is not urgent. */
export function urgencyMark(urgency: Urgency, say: Say): HTMLElement | null {
  if (urgency === 'plain') return null;
  return el(
    'span',
    { class: `mark mark-${urgency}` },
    shapeOf(urgency),
    el('span', { class: 'mark-word' }, say(`page-urgency-${urgency}`)),
  );
}
