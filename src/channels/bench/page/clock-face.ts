/** A small clock on the wall, drawn. */
import { draw } from './dom.ts';
import { handsOf } from './times.ts';

export interface ClockFace {
  readonly box: SVGElement;
  /** Sets the hands to an instant. */
  turn(at: number): void;
}

/** Strokes at the quarters, two hands, no figures: the time stands beside it in digits. */
export function clockFace(): ClockFace {
  const hand = (length: number, width: number): SVGLineElement =>
    draw('line', { x1: 24, y1: 24, x2: 24, y2: 24 - length, 'stroke-width': width, class: 'hand' });
  const [hour, minute] = [hand(10, 3), hand(16, 2)];
  const quarters = [0, 90, 180, 270].map((turn) =>
    draw('line', {
      x1: 24,
      y1: 5,
      x2: 24,
      y2: 9,
      class: 'hand',
      'stroke-width': 2,
      transform: `rotate(${turn} 24 24)`,
    }),
  );
  const box = draw(
    'svg',
    { viewBox: '0 0 48 48', class: 'clock-face', 'aria-hidden': 'true' },
    draw('circle', { cx: 24, cy: 24, r: 21, class: 'rim' }),
    ...quarters,
    hour,
    minute,
  );
  return {
    box,
    turn: (at) => {
      const { hours, minutes } = handsOf(at);
      hour.setAttribute('transform', `rotate(${(hours % 12) * 30 + minutes / 2} 24 24)`);
      minute.setAttribute('transform', `rotate(${minutes * 6} 24 24)`);
    },
  };
}
