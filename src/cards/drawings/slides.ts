/** What happens to the drop: covered, pulled apart, fixed at once while it is wet. */
import { arrow, box, circle, type Drawing, type Ink, lines, oval, path, placed, sign } from '../../drawings/ink.ts';
import { slide } from './tools.ts';

/** Slide 2 comes down onto the drop on slide 1. */
export const cover: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(slide('1'), 4, 54),
    oval(52, 61.5, 6, 2.4, { fill: 'dark', width: 0.6 }),
    placed(slide('2', { mirror: true }), 22, 10),
    arrow('40,33 40,49', { width: 2.2, head: 6 }),
    arrow('72,33 72,49', { width: 2.2, head: 6 }),
  ].join(''),
};

/** The two slides lie on each other and are pulled apart, flat, in a straight line. */
export const pullApart: Drawing = {
  width: 120,
  height: 78,
  ink: [
    placed(slide('1'), 2, 14, { scale: 0.78 }),
    placed(slide('2', { mirror: true }), 42, 10, { scale: 0.78 }),
    arrow('20,38 4,38', { width: 2.2, head: 6 }),
    arrow('98,38 114,38', { width: 2.2, head: 6 }),
    placed(slide('1', { smeared: true }), 1, 56, { scale: 0.62 }),
    placed(slide('2', { mirror: true, smeared: true }), 62, 56, { scale: 0.62 }),
  ].join(''),
};

/** A jar with a wide mouth, half full: 44 wide, 58 high, its mouth at the top. */
export function jar(open: boolean, level = 20): Ink {
  return [
    path('M4 8L40 8L40 12Q44 13 44 18L44 54Q44 58 40 58L4 58Q0 58 0 54L0 18Q0 13 4 12Z', { fill: 'white' }),
    path(`M0.6 ${level}L43.4 ${level}L43.4 54Q43.4 57.4 40 57.4L4 57.4Q0.6 57.4 0.6 54Z`, { fill: 'light', width: 0 }),
    lines(
      [
        [0, level],
        [44, level],
      ],
      { width: 0.6 },
    ),
    path('M4 8L40 8L40 12Q44 13 44 18L44 54Q44 58 40 58L4 58Q0 58 0 54L0 18Q0 13 4 12Z', {}),
    open ? '' : lid(),
  ].join('');
}

function lid(): Ink {
  return [
    box(1, 0, 42, 10, { fill: 'white', round: 1.5 }),
    ...[7, 13, 19, 25, 31, 37].map((x) =>
      lines(
        [
          [x, 2],
          [x, 8],
        ],
        { width: 0.5 },
      ),
    ),
  ].join('');
}

/** A slide that stands on its edge, its frosted end on top: 12 x 36. */
function upright(number: string): Ink {
  return [
    box(0, 0, 12, 36, { fill: 'white' }),
    box(0, 0, 12, 10, { fill: 'light', width: 0.6 }),
    sign(6, 8, 8, number),
    path('M3 15Q6 13 9 15L9.5 29Q6 32 2.5 29Z', { fill: 'middle', width: 0 }),
  ].join('');
}

/** A watch that says how many seconds there are. */
function watch(x: number, y: number, seconds: string): Ink {
  return [
    box(x - 2, y - 15.5, 4, 4, { fill: 'white' }),
    lines(
      [
        [x - 8, y - 9],
        [x - 10, y - 11],
      ],
      { width: 1.6 },
    ),
    lines(
      [
        [x + 8, y - 9],
        [x + 10, y - 11],
      ],
      { width: 1.6 },
    ),
    circle(x, y, 11.5, { fill: 'white', width: 1.4 }),
    sign(x, y + 3, seconds.length > 2 ? 7 : 9, `${seconds} s`),
  ].join('');
}

/** Both slides go into the alcohol, still wet, within the seconds. */
export function intoJar({ fixSeconds }: Pick<Times, 'fixSeconds'>): Drawing {
  return {
    width: 120,
    height: 78,
    ink: [
      // The back of the jar, the slides, the alcohol in front of them.
      placed(jar(true, 30), 40, 18),
      placed(upright('1'), 46, 14),
      placed(upright('2'), 65, 12),
      path('M40.6 48L83.4 48L83.4 72Q83.4 75.4 80 75.4L44 75.4Q40.6 75.4 40.6 72Z', { fill: 'light', width: 0 }),
      lines('40,48 84,48', { width: 0.6 }),
      path('M44 26L80 26L80 30Q84 31 84 36L84 72Q84 76 80 76L44 76Q40 76 40 72L40 36Q40 31 44 30Z', {}),
      arrow('28,4 28,26', { width: 2.4, head: 7 }),
      watch(104, 20, fixSeconds),
      placed(lid(), 88, 66, { scale: 0.7 }),
    ].join(''),
  };
}

/** Seconds and centimetres of fixing, as they are told. */
export interface Times {
  readonly fixSeconds: string;
  readonly sprayCm: string;
}

/** Both slides are sprayed from a distance while they are wet. */
export function fromDistance({ sprayCm }: Pick<Times, 'sprayCm'>): Drawing {
  return {
    width: 120,
    height: 78,
    ink: [
      // The can, its button pressed, and the cone of what comes out.
      placed(
        [
          box(0, 14, 18, 40, { fill: 'white', round: 3 }),
          path('M0 18Q0 9 5 9L13 9Q18 9 18 18Z', { fill: 'white' }),
          box(5, 2, 8, 7, { fill: 'white', round: 1 }),
          box(3, 24, 12, 20, { fill: 'light', width: 0.6 }),
        ].join(''),
        4,
        2,
      ),
      ...[46, 60, 74, 88, 102].map((x) => lines(`21,8 ${x},${x < 60 ? 63 : 61}`, { width: 0.6, dashed: true })),
      lines('34,72.6 118,72.6', { width: 1 }),
      placed(slide('1', { smeared: true }), 36, 64.4, { scale: 0.42 }),
      placed(slide('2', { smeared: true }), 78, 64.4, { scale: 0.42 }),
      // How far.
      arrow('26,5 110,50', { both: true, width: 1.1, head: 4.5 }),
      sign(88, 20, 11, `${sprayCm} cm`),
    ].join(''),
  };
}
