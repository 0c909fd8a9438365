/** The label as it will look on the side of the jar, in its own lines. */
import { el } from './dom.ts';
import type { Say } from './words.ts';

export function labelSheet(lines: readonly string[], say: Say): HTMLElement {
  const [code = '', ...rest] = lines;
  return el(
    'figure',
    { class: 'label' },
    el('div', { class: 'label-paper' }, el('strong', {}, code), ...rest.map((line) => el('span', {}, line))),
    el('figcaption', {}, say('page-label-about')),
  );
}
