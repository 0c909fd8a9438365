/** Where a lump lies in its picture: to scale, under the muscle, in the thyroid. */
import type { KnownNodule } from '../../clinical/known.ts';

/** The picture, in units of the drawing: what the probe shows, with room for rulers and names around it. */
export const view = { left: 52, top: 6, width: 250, height: 196 } as const;

/** Where layers begin under the upper edge of the view. */
export const layers = { fat: 7, muscle: 19, capsule: 46 } as const;

/** What a view shows from side to side, mm. The least in which the lump has room is taken. Our convention. */
const widths = [15, 20, 25, 30, 36, 45, 52, 60, 75, 90, 120, 150, 180, 240, 300, 400] as const;

/** The most that a lump takes of the view, from side to side and from top to bottom. */
const room = { across: 172, down: 130 } as const;

/** The other diameter where one alone was measured, and a lump that nobody measured, as parts of the width. */
const flat = 0.72;
const unmeasured = 118;

/** A lump in its place: half its diameters, its middle, and what is known of them. Units of the drawing. */
export interface Placed {
  readonly x: number;
  readonly y: number;
  readonly across: number;
  readonly down: number;
  /** Units a millimetre; null: nobody measured, and nothing is to scale. */
  readonly perMm: number | null;
  /** The diameters drawn, in mm; null where it was not measured. */
  readonly acrossMm: readonly [number, number] | null;
  readonly downMm: readonly [number, number] | null;
}

/** What the view must show from side to side, mm, so that the lump has room; null: nobody measured it. */
export function viewFor(nodule: KnownNodule): number | null {
  const diameters = drawnMm(nodule);
  if (diameters === null) return null;
  const [across, down] = diameters;
  const fits = (one: number): boolean =>
    (across * view.width) / one <= room.across && (down * view.width) / one <= room.down;
  return widths.find(fits) ?? widths[widths.length - 1]!;
}

/** Diameters from side to side and from top to bottom, mm; the second guessed where one alone was measured. */
function drawnMm({ size, mm, shape }: KnownNodule): readonly [number, number] | null {
  if (size === null) return null;
  const small = mm.length > 1 ? Math.min(...mm) : size.most * flat;
  return shape === 'taller-than-wide' ? [small, size.most] : [size.most, small];
}

/**
 * The largest diameter lies across, the smallest down; in a lump taller than wide it is the other way. Which diameter is
 * which plane's nobody told (our convention). `viewMm`: several lumps at one scale.
 */
export function placed(nodule: KnownNodule, viewMm: number | null = viewFor(nodule)): Placed {
  const { size, mm, shape, capsule } = nodule;
  const diameters = drawnMm(nodule);
  const perMm = diameters === null || viewMm === null ? null : view.width / viewMm;
  const isTall = shape === 'taller-than-wide';
  const guess = isTall ? ([unmeasured * flat, unmeasured] as const) : ([unmeasured, unmeasured * flat] as const);
  const [across, down] =
    diameters === null || perMm === null ? guess : ([diameters[0] * perMm, diameters[1] * perMm] as const);
  const least = mm.length > 1 ? Math.min(...mm) : null;
  const largest = size === null ? null : ([size.least, size.most] as const);
  const smallest = least === null ? null : ([least, least] as const);
  // Close under the capsule, so that whether it is whole can be seen; what grows out of the thyroid lies in the muscle too.
  const gap = capsule === 'invaded' ? -Math.min(14, down * 0.3) : 7;
  return {
    x: view.left + view.width / 2,
    y: view.top + layers.capsule + gap + down / 2,
    across: across / 2,
    down: down / 2,
    perMm,
    acrossMm: isTall ? smallest : largest,
    downMm: isTall ? largest : smallest,
  };
}
