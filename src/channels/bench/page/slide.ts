/** A glass slide with its frosted end, on which the code is written in pencil. A wrong digit is refused. */
import { draw, el } from './dom.ts';
import { type Pencilled, pencilled } from './pencil.ts';
import type { Say } from './words.ts';

export interface SlideOptions {
  readonly say: Say;
  readonly number: number;
  readonly code: string;
  /** What was written on it before. */
  readonly written: string;
  /** How the smear was reported, null before. */
  readonly state: string | null;
  wrote(text: string): void;
}

/** One slide with its field. */
export function slideObject(options: SlideOptions): HTMLElement {
  const { say, number, code, written, state } = options;
  const smear = draw(
    'svg',
    { viewBox: '0 0 100 40', class: 'smear', 'aria-hidden': 'true', preserveAspectRatio: 'none' },
    state !== null && state !== 'empty' ? draw('ellipse', { cx: 48, cy: 20, rx: 38, ry: 12 }) : null,
  );
  const field = el('input', {
    inputmode: 'numeric',
    autocomplete: 'off',
    maxlength: 14,
    value: written,
    class: 'frosted',
  });
  const glass = el('div', { class: 'glass' }, field, smear);
  const verdict = el('output', { class: 'verdict' });
  const look = (): void => {
    const how = pencilled(field.value, code);
    verdict.textContent = field.value === '' ? '' : say(`page-pencil-${how}`);
    verdict.className = `verdict ${how}`;
    field.setAttribute('aria-invalid', String(isRefused(how)));
    glass.classList.toggle('refused', isRefused(how));
  };
  field.addEventListener('input', () => {
    look();
    options.wrote(field.value);
  });
  look();
  const fixed = state === null ? '' : say(`page-slide-${stateKey(state)}`);
  return el(
    'div',
    { class: 'slide' },
    el(
      'label',
      {},
      el('span', { class: 'slide-name' }, say('page-slide-code', { n: number }), ' ', el('small', {}, fixed)),
      glass,
    ),
    verdict,
  );
}

function isRefused(how: Pencilled): boolean {
  return how === 'wrong' || how === 'other';
}

function stateKey(state: string): 'wet' | 'late' | 'dried' | 'unused' {
  if (state === 'wet-at-once') return 'wet';
  return state === 'late' || state === 'dried' ? state : 'unused';
}
