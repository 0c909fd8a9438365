/** What shines in a lump, each kind its own; what is calcium throws a shadow. */
import type { Focus } from '../../clinical/findings.ts';
import type { KnownNodule } from '../../clinical/known.ts';
import { short } from '../ink.ts';
import { type Placed, view } from './frame.ts';
import { bright, shadow } from './greys.ts';
import { unknownLine, unknownMark } from './marks.ts';
import { ovalData } from './outline.ts';

/** Ink under the lump, through it (shadows), within its edge, on its edge. */
export interface Shining {
  readonly beneath: string;
  readonly behind: string;
  readonly within: string;
  readonly edge: string;
}

/** Places within a lump, as parts of half its diameters. */
const dots = [
  [-0.5, -0.34],
  [-0.2, -0.52],
  [0.14, -0.36],
  [0.42, -0.2],
  [-0.36, -0.02],
  [-0.04, -0.12],
  [0.24, 0.1],
  [-0.56, 0.22],
  [-0.18, 0.3],
  [0.5, 0.32],
  [0.06, 0.5],
] as const;
const tails = [
  [-0.3, -0.44],
  [0.3, -0.1],
] as const;
const pieces = [
  [-0.34, 0.06],
  [0.3, -0.3],
] as const;

type Place = readonly [x: number, y: number];
const placeIn = ({ x, y, across, down }: Placed, [left, low]: Place): Place => [x + left * across, y + low * down];

/** Size of what shines: grows with the lump, within what can be seen and what is still small. */
const grain = ({ across, down }: Placed): number => Math.max(1.5, Math.min(2.4, Math.min(across, down) / 18));

const draw: { readonly [F in Focus]: (at: Placed) => Partial<Shining> } = {
  punctate: (at) => ({
    within: `<g fill="${bright}" stroke="#000" stroke-width=".4">${dots
      .map((one) => placeIn(at, one))
      .map(([x, y]) => `<circle cx="${short(x)}" cy="${short(y)}" r="${short(grain(at))}"/>`)
      .join('')}</g>`,
  }),
  'comet-tail': (at) => ({
    within: tails
      .map((one) => placeIn(at, one))
      .map(([x, y]) => {
        const g = grain(at) * 1.4;
        return `<path d="M${short(x - g)} ${short(y)}a${short(g)} ${short(g)} 0 0 1 ${short(2 * g)} 0l${short(-g * 0.8)} ${short(g * 8)}h${short(-g * 0.4)}z" fill="${bright}"/>`;
      })
      .join(''),
  }),
  macrocalcification: (at) => {
    const wide = Math.max(5, at.across * 0.2);
    const spots = pieces.map((one) => placeIn(at, one));
    const [deep, thick] = [view.top + view.height, Math.max(3, wide * 0.46)];
    return {
      within: spots
        .map(
          ([x, y]) =>
            `<path d="M${short(x - wide)} ${short(y + thick * 0.6)}l${short(wide * 0.4)} ${short(-thick)}l${short(wide * 0.8)} ${short(-thick * 0.4)}l${short(wide * 0.8)} ${short(thick * 0.9)}l${short(-wide * 0.3)} ${short(thick * 0.9)}z" fill="${bright}" stroke="#000" stroke-width=".6"/>`,
        )
        .join(''),
      behind: spots
        .map(
          ([x, y]) =>
            `<path d="M${short(x - wide * 0.9)} ${short(y + thick)}h${short(wide * 1.8)}L${short(x + wide * 1.15)} ${deep}H${short(x - wide * 1.15)}Z" fill="${shadow}" opacity=".5"/>`,
        )
        .join(''),
    };
  },
  'rim-calcification': (at) => rim(at, false),
  'rim-extrusion': (at) => rim(at, true),
};

/** A white shell; broken, with tissue that pushes out through the gap. */
function rim(at: Placed, broken: boolean): Partial<Shining> {
  const { x, y, across, down } = at;
  const [far, deep] = [0.86, view.top + view.height];
  const shell = ovalData({ x, y, across: across * far, down: down * far });
  const pen = `fill="none" stroke="${bright}" stroke-width="3.6" stroke-linecap="butt"`;
  const beneath = `<path d="M${short(x - across * far)} ${short(y)}H${short(x + across * far)}L${short(x + across)} ${deep}H${short(x - across)}Z" fill="${shadow}" opacity=".34"/>`;
  if (!broken) return { within: `<path d="${shell}" ${pen}/>`, beneath };
  // The gap is at the right, a little below the middle.
  const point = (turn: number): string =>
    `${short(x + Math.cos(turn) * across * far)} ${short(y + Math.sin(turn) * down * far)}`;
  const [from, to] = [0.5, -0.22];
  const open = `M${point(from)}A${short(across * far)} ${short(down * far)} 0 1 1 ${point(to)}`;
  const bulge = {
    x: x + across * 1.0,
    y: y + down * 0.14,
    across: Math.max(6, across * 0.2),
    down: Math.max(6, down * 0.26),
  };
  const out = `<path d="${ovalData(bulge)}" fill="#6a6a6a" stroke="#1a1a1a" stroke-width="1.4"/>`;
  return { within: `<path d="${open}" ${pen}/>`, beneath, edge: out };
}

/** Everything that shines; where more may shine than was named there are empty rings. */
export function shiningIn({ foci }: KnownNodule, at: Placed): Shining & { readonly marks: string } {
  const isBroken = foci.present.includes('rim-extrusion');
  const drawn = foci.present.filter((one) => !(isBroken && one === 'rim-calcification')).map((one) => draw[one](at));
  const together = (of: keyof Shining): string => drawn.map((one) => one[of] ?? '').join('');
  const rings = (
    [
      [-0.52, 0.44],
      [-0.12, 0.68],
      [0.36, 0.62],
    ] as const
  ).map((one) => placeIn(at, one));
  const ring = ([x, y]: Place): string => unknownLine(ovalData({ x, y, across: 3, down: 3 }), 0.9);
  return {
    beneath: together('beneath'),
    behind: together('behind'),
    within: together('within') + (foci.open ? rings.map(ring).join('') : ''),
    edge: together('edge'),
    marks: foci.open ? unknownMark(...placeIn(at, [0.12, 0.7]), 5.5) : '',
  };
}
