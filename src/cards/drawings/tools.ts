/** Needle, syringe, slide, jar: things that several drawings share. Each is drawn at the origin, to be placed. */
import { box, type Ink, lines, path, sign } from '../../drawings/ink.ts';

/** A needle with its plastic end: the tip at the origin, pointing down; `length` of the steel. What came stands in the plastic end. */
export function needle(length: number, filled = false): Ink {
  const y = -length;
  return [
    lines(
      [
        [0, 0],
        [0, y],
      ],
      { width: 1.1 },
    ),
    path(`M-1 ${y}L1 ${y}L2 ${y - 4}L-2 ${y - 4}Z`, { fill: 'white' }),
    path(`M-2.6 ${y - 4}L2.6 ${y - 4}L3.2 ${y - 13}L-3.2 ${y - 13}Z`, { fill: 'white' }),
    filled ? path(`M-1.9 ${y - 4.6}L1.9 ${y - 4.6}L2.3 ${y - 9}L-2.3 ${y - 9}Z`, { fill: 'dark', width: 0 }) : '',
    box(-4, y - 14.5, 8, 2, { fill: 'white', round: 0.8 }),
  ].join('');
}

/** A syringe without a needle: its mouth at the origin, pointing down. `drawn` 0 = the plunger is all the way in, 1 = out. */
export function syringe(drawn: number, { scale = 1 } = {}): Ink {
  const top = -8 - 34 * drawn;
  const rod = top - 12;
  const ink = [
    // Plunger rod and its thumb rest, behind the barrel.
    box(-1.8, rod, 3.6, top - rod, { fill: 'white' }),
    box(-6, rod - 2, 12, 2.4, { fill: 'white', round: 1 }),
    // Barrel with its flange and mouth.
    path('M-1.6 0L1.6 0L1.6 -4L6 -6L6 -44L-6 -44L-6 -6L-1.6 -4Z', { fill: 'white' }),
    box(-10, -46, 20, 2.4, { fill: 'white', round: 1 }),
    ...[-12, -18, -24, -30, -36].map((y) =>
      lines(
        [
          [2.5, y],
          [6, y],
        ],
        { width: 0.5 },
      ),
    ),
    // The plunger in the barrel.
    box(-5.4, top - 3, 10.8, 3.4, { fill: 'black', width: 0.2, round: 0.6 }),
    ...(top - 3 > -44 ? [box(-1.8, -44, 3.6, top - 3 + 44, { fill: 'white' })] : []),
  ].join('');
  return scale === 1 ? ink : `<g transform="scale(${scale})">${ink}</g>`;
}

/** A slide that lies on the table, seen from above the front edge, 76 x 16: frosted end on the left with its number. */
export function slide(number: string, { mirror = false, smeared = false } = {}): Ink {
  const ink = [
    lines('8,0 92,0 84,16 0,16', { fill: 'white' }),
    lines('8,0 28,0 20,16 0,16', { fill: 'light', width: 0.6 }),
    lines('0,16 0,17.6 84,17.6 84,16', { width: 0.8 }),
    lines('84,17.6 92,1.6 92,0', { width: 0.8 }),
    smeared ? path('M38 4Q60 1 74 5Q78 9 68 12Q46 14 36 11Q32 8 38 4Z', { fill: 'middle', width: 0 }) : '',
  ].join('');
  const turned = mirror ? `<g transform="translate(92 0)scale(-1 1)">${ink}</g>` : ink;
  return turned + sign(mirror ? 78 : 14, 12, 11, number);
}
