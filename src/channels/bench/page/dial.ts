/** A timer as a dial: the time that is left is the part of the ring that is still dark. */
import { draw, el } from './dom.ts';

export interface Dial {
  readonly box: HTMLElement;
  /** `left` and `whole` in the same unit; `text`: what stands in the middle. */
  turn(left: number, whole: number, text: string): void;
}

const radius = 40;
const round = 2 * Math.PI * radius;

/** `name` stands below the dial. */
export function dial(name: string): Dial {
  const rest = draw('circle', {
    cx: 50,
    cy: 50,
    r: radius,
    class: 'dial-rest',
    'stroke-dasharray': `${round} ${round}`,
    transform: 'rotate(-90 50 50)',
  });
  const text = draw('text', { x: 50, y: 57, 'text-anchor': 'middle', class: 'dial-text' });
  const ring = draw(
    'svg',
    { viewBox: '0 0 100 100', class: 'dial-ring', 'aria-hidden': 'true' },
    draw('circle', { cx: 50, cy: 50, r: radius, class: 'dial-whole' }),
    rest,
    text,
  );
  const said = el('span', { class: 'unseen' });
  const box = el('figure', { class: 'dial' }, ring, el('figcaption', {}, name, ' ', said));
  return {
    box,
    turn: (left, whole, words) => {
      const share = whole > 0 ? Math.max(0, Math.min(1, left / whole)) : 0;
      rest.setAttribute('stroke-dasharray', `${share * round} ${round}`);
      box.classList.toggle('over', left <= 0);
      if (text.textContent === words) return;
      text.textContent = words;
      said.textContent = words;
    },
  };
}
