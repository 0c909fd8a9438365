/** Where names are written: on the slide in pencil, on the side of the jar. */
import { box, crossedOut, type Drawing, type Ink, lines, oval, path, placed, sign, tick } from '../../drawings/ink.ts';
import { jar } from './slides.ts';

/** A pencil, its point at the origin, pointing down to the left. */
function pencil(): Ink {
  return placed(
    [
      path('M0 0L-3 -9L3 -9Z', { fill: 'white' }),
      path('M0 0L-1 -3L1 -3Z', { fill: 'black', width: 0.3 }),
      box(-3, -40, 6, 31, { fill: 'light' }),
      lines('-1,-40 -1,-9', { width: 0.5 }),
      lines('1,-40 1,-9', { width: 0.5 }),
      box(-3, -45, 6, 5, { fill: 'dark', round: 1 }),
    ].join(''),
    0,
    0,
    { turn: 40 },
  );
}

/** The rough end of a slide with what is written on it, large. `written`: short lines, from the top. */
export function pencilOnSlide(written: readonly string[]): Drawing {
  return {
    width: 120,
    height: 78,
    ink: [
      box(4, 18, 118, 46, { fill: 'white', width: 1.2 }),
      box(4, 18, 50, 46, { fill: 'light', width: 0.8 }),
      ...written.map((line, at) => sign(29, 26 + at * 8.4, 6, line)),
      placed(pencil(), 44, 60),
    ].join(''),
  };
}

/** Lines of writing that nobody needs to read. */
function writing(x: number, y: number, width: number, rows: number, step: number): Ink {
  return Array.from({ length: rows }, (_, at) =>
    lines(
      [
        [x, y + at * step],
        [x + width * (at % 2 === 0 ? 1 : 0.7), y + at * step],
      ],
      { width: 1 },
    ),
  ).join('');
}

/** The label on the side of the jar is right; on the lid it is wrong, since lids are changed. */
export const sideNotLid: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(jar(false), 8, 17),
    box(13, 42, 34, 28, { fill: 'white', width: 1 }),
    writing(17, 48, 26, 4, 5.4),
    tick(2, 2, 11),
    placed(jar(true), 70, 17),
    // Its lid a little from above, the label on it.
    path('M69 19L69 25C69 35 115 35 115 25L115 19', { fill: 'white' }),
    oval(92, 19, 23, 11, { fill: 'white' }),
    lines('80,12.5 104,12.5 108,24.5 76,24.5', { fill: 'white', width: 1 }),
    lines('82,15.6 102,15.6', { width: 0.9 }),
    lines('81,18.6 97,18.6', { width: 0.9 }),
    lines('80,21.6 104,21.6', { width: 0.9 }),
    crossedOut(70, 3, 44, 32),
  ].join(''),
};
