/** Strokes of a drawing: pure functions that give SVG fragments. Units are those of the drawing; only black, greys and white. */

/** Part of a drawing. */
export type Ink = string;

/** A whole drawing of its own size: units are about millimetres at the size it was drawn for. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly ink: Ink;
}
export type Point = readonly [x: number, y: number];

/** Points as `x,y x,y`, or one by one. */
export type Points = string | readonly Point[];

/** Width of an ordinary line. */
export const LINE = 0.8;

/** Greys that stay apart on a poor printer. */
export const shades = {
  none: 'none',
  white: '#fff',
  light: '#ddd',
  middle: '#aaa',
  dark: '#555',
  black: '#000',
} as const;
export type Shade = keyof typeof shades;

interface Pen {
  readonly width?: number;
  readonly fill?: Shade;
  readonly colour?: Shade;
  readonly dashed?: boolean;
}

/** A number as it is written in SVG. */
export const short = (value: number): string => String(Math.round(value * 100) / 100);

/** A path by its SVG data, outlined. */
export function path(data: string, { width = LINE, fill = 'none', colour = 'black', dashed = false }: Pen = {}): Ink {
  const dash = dashed ? ` stroke-dasharray="${short(width * 3)} ${short(width * 2.5)}"` : '';
  const line = width === 0 ? '' : ` stroke="${shades[colour]}" stroke-width="${short(width)}"${dash}`;
  return `<path d="${data}" fill="${shades[fill]}"${line} stroke-linecap="round" stroke-linejoin="round"/>`;
}

/** Straight lines from point to point; closed where it is filled. */
export function lines(points: Points, pen: Pen = {}): Ink {
  const data = pointsOf(points)
    .map(([x, y], at) => `${at === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`)
    .join('');
  return path(`${data}${pen.fill === undefined ? '' : 'Z'}`, pen);
}

/** A smooth curve through all points. */
export function curve(points: Points, pen: Pen = {}): Ink {
  return path(curveData(pointsOf(points)), pen);
}

export function circle(x: number, y: number, radius: number, pen: Pen = {}): Ink {
  return oval(x, y, radius, radius, pen);
}

export function oval(x: number, y: number, across: number, high: number, pen: Pen = {}): Ink {
  const [left, right] = [short(x - across), short(x + across)];
  const arc = `A${short(across)} ${short(high)} 0 1 1`;
  return path(`M${left} ${short(y)}${arc} ${right} ${short(y)}${arc} ${left} ${short(y)}Z`, pen);
}

/** A rectangle; `round` = radius of its corners. */
export function box(x: number, y: number, width: number, height: number, pen: Pen & { round?: number } = {}): Ink {
  const r = Math.min(pen.round ?? 0, width / 2, height / 2);
  const turn = (dx: number, dy: number) => `q${r === 0 ? '0 0' : corner(dx, dy)}`;
  const corner = (dx: number, dy: number) =>
    dx * dy > 0
      ? `${short(dx * r)} 0 ${short(dx * r)} ${short(dy * r)}`
      : `0 ${short(dy * r)} ${short(dx * r)} ${short(dy * r)}`;
  if (r === 0) {
    return path(`M${short(x)} ${short(y)}h${short(width)}v${short(height)}h${short(-width)}Z`, pen);
  }
  const data = [
    `M${short(x + r)} ${short(y)}h${short(width - 2 * r)}`,
    turn(1, 1),
    `v${short(height - 2 * r)}`,
    turn(-1, 1),
    `h${short(2 * r - width)}`,
    turn(-1, -1),
    `v${short(2 * r - height)}`,
    turn(1, -1),
    'Z',
  ].join('');
  return path(data, pen);
}

/** A limb or finger: a round tube along a smooth curve, as one of its parts in `joined`. */
export interface Tube {
  readonly along: Points;
  readonly width: number;
}

/**
 * Tubes and filled shapes (SVG path data) that grow together into one outline, so that arms and fingers need no seams. `open`: more
 * tubes in white alone, which wipe the outline away where this part meets one that was drawn before.
 */
export function joined(
  tubes: readonly Tube[],
  { shapes = [], open = [], fill = 'white', width = LINE }: JoinedOptions = {},
): Ink {
  const all = (colour: Shade, more: number) => [
    ...tubes.map((one) => path(curveData(pointsOf(one.along)), { width: one.width + more, colour })),
    ...shapes.map((data) => path(data, { width: Math.max(more + width, 0.01), colour, fill: colour })),
  ];
  const wiped = open.map((one) => path(curveData(pointsOf(one.along)), { width: one.width - width, colour: fill }));
  return [...all('black', width), ...all(fill, -width), ...wiped].join('');
}

interface JoinedOptions {
  readonly shapes?: readonly string[];
  readonly open?: readonly Tube[];
  readonly fill?: Shade;
  readonly width?: number;
}

/** An arrow along a smooth curve; `both` = a head at either end. */
export function arrow(
  along: Points,
  { width = 1.4, head = 4, both = false }: { width?: number; head?: number; both?: boolean } = {},
): Ink {
  const points = pointsOf(along);
  const ends = [headAt(points.at(-2)!, points.at(-1)!, head), ...(both ? [headAt(points[1]!, points[0]!, head)] : [])];
  // The shaft ends inside its head, so that no blunt end looks out of the tip.
  const cut = (from: Point, to: Point): Point => shifted(to, from, head * 0.7);
  const shaft = [...points.slice(0, -1), cut(points.at(-2)!, points.at(-1)!)];
  if (both) shaft[0] = cut(points[1]!, points[0]!);
  return curve(shaft, { width }) + ends.join('');
}

function headAt(from: Point, tip: Point, size: number): Ink {
  const turn = Math.atan2(tip[1] - from[1], tip[0] - from[0]);
  const side = (angle: number): Point => [
    tip[0] - size * Math.cos(turn + angle),
    tip[1] - size * Math.sin(turn + angle),
  ];
  return lines([tip, side(0.45), side(-0.45)], { fill: 'black', width: 0.2 });
}

/** A big X over what is not to be done. */
export function crossedOut(x: number, y: number, width: number, height: number): Ink {
  const pen = { width: 2 };
  const halo = { width: 2.6, colour: 'white' } as const;
  const [right, low] = [x + width, y + height];
  const strokes = (one: Pen) => lines(`${x},${y} ${right},${low}`, one) + lines(`${right},${y} ${x},${low}`, one);
  return strokes(halo) + strokes(pen);
}

/** A tick beside what is right. */
export function tick(x: number, y: number, size: number): Ink {
  return placed(lines('0,0.55 0.38,0.95 1,0', { width: 2.2 / size }), x, y, { scale: size });
}

/** Moves, turns (degrees) and scales part of a drawing. */
export function placed(ink: Ink, x: number, y: number, { turn = 0, scale = 1, mirror = false } = {}): Ink {
  const size = mirror ? `scale(${short(-scale)} ${short(scale)})` : scale === 1 ? '' : `scale(${scale})`;
  const turned = turn === 0 ? '' : `rotate(${short(turn)})`;
  return `<g transform="translate(${short(x)} ${short(y)})${turned}${size}">${ink}</g>`;
}

/** A figure or letter on what is drawn: the same in every language. */
export function sign(x: number, y: number, size: number, text: string): Ink {
  return `<text x="${short(x)}" y="${short(y)}" font-size="${size}" font-family="${FONTS}" font-weight="bold" text-anchor="middle">${escaped(text)}</text>`;
}

/** Fonts of every machine; the widths in `letters.ts` hold for the widest of them. */
export const FONTS = "'DejaVu Sans', Verdana, Arial, Helvetica, sans-serif";

/** Words as they are written in SVG and HTML. */
export function escaped(text: string): string {
  return text.replace(/&/gu, '&amp;').replace(/</gu, '&lt;').replace(/>/gu, '&gt;').replace(/"/gu, '&quot;');
}

function pointsOf(points: Points): readonly Point[] {
  if (typeof points !== 'string') return points;
  return points.split(' ').map((one) => {
    const [x, y] = one.split(',').map(Number);
    return [x!, y!];
  });
}

function shifted(from: Point, to: Point, by: number): Point {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  return [from[0] + ((to[0] - from[0]) / length) * by, from[1] + ((to[1] - from[1]) / length) * by];
}

/** Catmull-Rom through the points, as cubic Bezier curves. */
function curveData(points: readonly Point[]): string {
  const at = (index: number): Point => points[Math.max(0, Math.min(points.length - 1, index))]!;
  const [first] = points as [Point];
  let data = `M${short(first[0])} ${short(first[1])}`;
  for (let index = 0; index < points.length - 1; index += 1) {
    const [before, from, to, after] = [at(index - 1), at(index), at(index + 1), at(index + 2)];
    const a = [from[0] + (to[0] - before[0]) / 6, from[1] + (to[1] - before[1]) / 6];
    const b = [to[0] - (after[0] - from[0]) / 6, to[1] - (after[1] - from[1]) / 6];
    data += `C${[...a, ...b, ...to].map(short).join(' ')}`;
  }
  return points.length === 1 ? `${data}h0.01` : data;
}
