/** What a lump is made of and how dark it is, within its edge. */
import type { KnownNodule } from '../../clinical/known.ts';
import { short } from '../ink.ts';
import type { Placed } from './frame.ts';
import { bright, echoGrey, fluid, shadow } from './greys.ts';
import { unknownLine, unknownMark } from './marks.ts';
import { ovalData } from './outline.ts';

interface Body {
  readonly nodule: KnownNodule;
  readonly at: Placed;
  /** Of the patterns and the edge. */
  readonly id: string;
}

/** Everything within the edge, and the marks of what nobody knows of it, which lie over all else. */
export interface Inside {
  readonly ink: string;
  readonly marks: string;
}

const marks = (...all: readonly string[]): string => all.join('');
const area = ({ x, y, across, down }: Placed): string =>
  `M${short(x - across)} ${short(y - down)}h${short(2 * across)}v${short(2 * down)}h${short(-2 * across)}Z`;
const filled = (data: string, fill: string, more = ''): string => `<path d="${data}" fill="${fill}"${more}/>`;

/** Tissue of the told grey; striped where nobody knows it. */
function tissueInk({ nodule, id }: Body, data: string): string {
  const { echogenicity } = nodule;
  if (echogenicity === null) return filled(data, `url(#${id}u)`);
  return filled(data, echoGrey[echogenicity]) + filled(data, `url(#${id}g)`);
}

/** Inside by composition. */
export function insideOf(body: Body): Inside {
  const { nodule, at } = body;
  switch (nodule.composition) {
    case 'cystic':
      return cyst(body);
    case 'spongiform':
      return sponge(body);
    case 'mixed':
      return mixed(body);
    case 'solid':
      return withDarkPart(body, { ink: tissueInk(body, area(at)), marks: '' });
    case 'obscured':
      return hidden(body);
    case null: {
      const grey = nodule.echogenicity === null ? `url(#${body.id}u)` : echoGrey[nodule.echogenicity];
      return withDarkPart(body, { ink: filled(area(at), grey), marks: unknownMark(at.x, at.y, 11) });
    }
  }
}

/** Fluid is black; a cyst that was told to be grey is drawn grey, as told. The bright line is its back wall. */
function cyst({ nodule, at, id }: Body): Inside {
  const { echogenicity } = nodule;
  const { x, y, across, down } = at;
  const wall = `M${short(x - across * 0.55)} ${short(y + down * 0.74)}Q${short(x)} ${short(y + down * 1.02)} ${short(x + across * 0.55)} ${short(y + down * 0.74)}`;
  const unknown = echogenicity === null ? filled(area(at), `url(#${id}u)`, ' opacity=".3"') : '';
  const dark = nodule.hypoechoicPart === true ? darkPart(at) : '';
  return {
    ink: `${filled(area(at), echogenicity === null ? fluid : echoGrey[echogenicity])}${unknown}${dark}<path d="${wall}" fill="none" stroke="${bright}" stroke-width="2.4" stroke-linecap="round"/>`,
    marks: '',
  };
}

/** Bubbles through the whole lump, or through most of it; the rest is solid. */
function sponge(body: Body): Inside {
  const { nodule, at, id } = body;
  const { x, y, across, down } = at;
  const all = tissueInk(body, area(at)) + filled(area(at), `url(#${id}s)`);
  const edge = `M${short(x + across * 0.3)} ${short(y - down)}Q${short(x + across * 0.02)} ${short(y)} ${short(x + across * 0.42)} ${short(y + down)}`;
  const rest = `${edge}H${short(x + across)}V${short(y - down)}Z`;
  if (nodule.spongiformWhole === true) return withDarkPart(body, { ink: all, marks: '' });
  if (nodule.spongiformWhole === false) return withDarkPart(body, { ink: all + tissueInk(body, rest), marks: '' });
  return withDarkPart(body, { ink: all + unknownLine(edge), marks: unknownMark(x + across * 0.66, y - down * 0.2) });
}

/** Fluid with a solid part: its size to scale where it was measured, its place where it was told. */
function mixed(body: Body): Inside {
  const { nodule, at } = body;
  const { solidPartMm, eccentric } = nodule;
  const measured = solidPartMm !== null && at.perMm !== null && nodule.size !== null;
  const part = measured ? Math.min(1, solidPartMm / nodule.size.most) : 0.55;
  const size = { across: at.across * part, down: at.down * part };
  // At the side it grows from the wall.
  const aside = at.x - (at.across - size.across * 0.86);
  const solid = { ...size, x: eccentric === true ? aside : at.x, y: at.y };
  const shown = tissueInk(body, ovalData(solid));
  const edge = measured
    ? `<path d="${ovalData(solid)}" fill="none" stroke="${bright}" stroke-width="1.4"/>`
    : unknownLine(ovalData(solid));
  const other = eccentric === null ? unknownLine(ovalData({ ...size, x: aside, y: at.y }), 1) : '';
  const seen: Inside = {
    ink: filled(area(at), fluid) + shown + edge + other,
    marks: marks(
      measured ? '' : unknownMark(solid.x, solid.y + size.down, 5.5),
      eccentric === null ? unknownMark(at.x - at.across * 0.72, at.y) : '',
    ),
  };
  return withDarkPart(body, seen, solid);
}

/** Calcium in front, nothing but shadow behind it; a strip under the shell is all that shows. */
function hidden(body: Body): Inside {
  const { x, y, across, down } = body.at;
  const low = `M${short(x - across)} ${short(y - down * 0.3)}Q${short(x)} ${short(y - down * 0.95)} ${short(x + across)} ${short(y - down * 0.3)}V${short(y + down)}H${short(x - across)}Z`;
  const shell = `M${short(x - across * 0.9)} ${short(y - down * 0.38)}Q${short(x)} ${short(y - down * 1.42)} ${short(x + across * 0.9)} ${short(y - down * 0.38)}`;
  return withDarkPart(body, {
    ink: `${tissueInk(body, area(body.at))}${filled(low, shadow)}<path d="${shell}" fill="none" stroke="${bright}" stroke-width="5" stroke-linecap="round"/>`,
    marks: '',
  });
}

const darkPlace = (at: Pick<Placed, 'x' | 'y' | 'across' | 'down'>) =>
  ovalData({ x: at.x + at.across * 0.36, y: at.y + at.down * 0.34, across: at.across * 0.3, down: at.down * 0.26 });

const darkPart = (at: Pick<Placed, 'x' | 'y' | 'across' | 'down'>): string =>
  filled(darkPlace(at), '#3c3c3c', ' stroke="#1c1c1c" stroke-width=".8"');

/**
 * A darker part in a lump that is not dark itself. Where it would count and nobody named one it may still be there; in a
 * dark lump it counts for nothing.
 */
function withDarkPart(
  { nodule, at }: Body,
  { ink, marks: over }: Inside,
  within: Parameters<typeof darkPlace>[0] = at,
): Inside {
  const { hypoechoicPart, echogenicity } = nodule;
  if (hypoechoicPart === true) return { ink: ink + darkPart(within), marks: over };
  const counts = echogenicity === 'isoechoic' || echogenicity === 'hyperechoic' || echogenicity === 'anechoic';
  if (hypoechoicPart === false || !counts || nodule.composition === 'obscured') return { ink, marks: over };
  const mark = unknownMark(within.x + within.across * 0.36, within.y + within.down * 0.34, 5);
  return { ink: ink + unknownLine(darkPlace(within), 1), marks: over + mark };
}
