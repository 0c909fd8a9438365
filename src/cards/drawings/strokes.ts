/** What the needle does: strokes in one line, when to stop, air behind it, one drop on the glass. */
import {
  arrow,
  circle,
  crossedOut,
  type Drawing,
  type Ink,
  lines,
  oval,
  path,
  placed,
  tick,
} from '../../drawings/ink.ts';
import { needle, slide, syringe } from './tools.ts';

/** Skin in section with a lump under it, about `width` wide; the skin's surface at y = 0. */
function skin(width: number, x: number, depth: number, size: number): Ink {
  const low = depth + size + 8;
  return [
    path(`M${x - width / 2} 0Q${x} -7 ${x + width / 2} 0L${x + width / 2} ${low}L${x - width / 2} ${low}Z`, {
      fill: 'light',
      width: 0,
    }),
    path(`M${x - width / 2} 0Q${x} -7 ${x + width / 2} 0`, { width: 1 }),
    path(`M${x - width / 2} 3.4Q${x} -3.6 ${x + width / 2} 3.4`, { width: 0.5 }),
    circle(x, depth, size, { fill: 'white', width: 1 }),
  ].join('');
}

/** Up and down in one line: right. Like a fan: wrong. */
export const oneLine: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(skin(54, 0, 16, 15), 29, 38),
    placed(needle(34), 29, 54),
    lines('29,54 29,65', { width: 0.8, dashed: true }),
    arrow('40,9 40,32', { both: true, width: 1.8, head: 5.5 }),
    tick(4, 4, 12),
    placed(skin(54, 0, 16, 15), 91, 38),
    ...[-24, 0, 24].map((turn) => placed(placed(needle(32), 0, 26), 91, 36, { turn })),
    arrow('79,9 91,3.4 103,9', { both: true, width: 1.2, head: 4 }),
    crossedOut(63, 4, 11, 11),
  ].join(''),
};

/** Something shows in the plastic end, here seen large: stop, and the needle comes out. */
export const stopAtPlastic: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(skin(54, 0, 16, 15), 29, 38),
    placed(needle(34, true), 29, 54),
    arrow('11,36 11,6', { width: 2.6, head: 8 }),
    // The plastic end as through a glass.
    circle(29, 15, 8, { width: 0.8 }),
    lines('33.5,8.4 78,10.5', { width: 0.6 }),
    lines('34,21.2 72,58', { width: 0.6 }),
    circle(90, 36, 28, { fill: 'white', width: 1.4 }),
    placed(needle(6, true), 90, 62.5, { scale: 2.5 }),
  ].join(''),
};

/** Air is drawn into the syringe before it goes onto the needle. */
export const airFirst: Drawing = {
  width: 120,
  height: 78,
  ink: [
    // Empty syringe, plunger pulled back: air goes in at its mouth.
    placed(syringe(0.75), 28, 66, { scale: 0.9 }),
    arrow('46,30 46,12', { width: 1.8, head: 5 }),
    ...[-7, 0, 7].map((x) =>
      arrow(
        [
          [28 + x * 1.4, 77],
          [28 + x * 0.45, 69],
        ],
        { width: 0.7, head: 2.4 },
      ),
    ),
    arrow('56,44 68,44', { width: 2.4, head: 6 }),
    // Onto the needle with what it holds.
    placed(syringe(0.75), 94, 43, { scale: 0.9 }),
    placed(needle(14, true), 94, 78, { scale: 1 }),
    arrow('108,34 108,48', { width: 1.8, head: 5 }),
  ].join(''),
};

/** The tip touches slide 1 and one drop is blown out. */
export const dropOnSlide: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(slide('1'), 10, 56),
    oval(55.5, 62.6, 5, 2.2, { fill: 'dark', width: 0.6 }),
    placed([placed(syringe(0.45), 0, -20, { scale: 0.8 }), placed(needle(16), 0, 9.5)].join(''), 61, 53, { turn: 38 }),
    arrow('106,2 98,12', { width: 1.8, head: 5 }),
  ].join(''),
};
