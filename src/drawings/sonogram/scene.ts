/** A lump in the neck as a probe shows it, drawn: skin, muscle, thyroid, and in it the lump as it was told. */
import type { KnownNodule } from '../../clinical/known.ts';
import { short } from '../ink.ts';
import { shiningIn } from './foci.ts';
import { layers, type Placed, view } from './frame.ts';
import { tissue } from './greys.ts';
import { insideOf } from './inside.ts';
import { patterns, unknownLine, unknownMark } from './marks.ts';
import { outlineData, ovalData } from './outline.ts';

const right = view.left + view.width;
const bottom = view.top + view.height;
const capsuleY = view.top + layers.capsule;
/** The capsule arches a little towards the skin. */
const capsuleData = (from: number, to: number): string =>
  `M${short(from)} ${short(archAt(from))}Q${short((from + to) / 2)} ${short(2 * archAt((from + to) / 2) - (archAt(from) + archAt(to)) / 2)} ${short(to)} ${short(archAt(to))}`;
const archAt = (x: number): number => capsuleY + ((x - view.left - view.width / 2) / (view.width / 2)) ** 2 * 7;

function tissues(id: string): string {
  const band = (y: number, height: number, fill: string): string =>
    `<path d="M${view.left} ${short(y)}h${view.width}v${short(height)}h${-view.width}z" fill="${fill}"/>`;
  const fibres = [0, 1, 2, 3]
    .map((row) => {
      const y = view.top + layers.muscle + 5 + row * 5.4;
      return `M${view.left + 6 + (row % 2) * 17} ${short(y)}h38m13 .8h52m16-.8h44m12 .6h${row % 2 === 0 ? 58 : 40}`;
    })
    .join('');
  return [
    band(view.top, layers.fat, tissue.gel),
    band(view.top + layers.fat, layers.muscle - layers.fat, tissue.fat),
    `<path d="M${view.left} ${view.top + layers.fat}h${view.width}M${view.left} ${view.top + layers.muscle}h${view.width}" stroke="${tissue.line}" stroke-width="1.4"/>`,
    band(view.top + layers.muscle, bottom - view.top - layers.muscle, tissue.muscle),
    `<path d="${fibres}" stroke="#fff" stroke-opacity=".3" fill="none" stroke-linecap="round"/>`,
    ...[tissue.thyroid, `url(#${id}g)`].map(
      (fill) => `<path d="${capsuleData(view.left, right)}V${bottom}H${view.left}Z" fill="${fill}"/>`,
    ),
  ].join('');
}

/** The bright line around the thyroid: whole, broken through, or not known over the lump. */
function capsule({ capsule: told }: KnownNodule, { x, across }: Placed): { under: string; over: string } {
  const pen = `fill="none" stroke="${tissue.line}" stroke-width="2.6" stroke-linecap="round"`;
  const part = (from: number, to: number): string => `<path d="${capsuleData(from, to)}" ${pen}/>`;
  if (told === 'intact') return { under: '', over: part(view.left, right) };
  const half = Math.min(view.width / 2 - 12, across * (told === 'invaded' ? 0.8 : 1));
  const sides = part(view.left, x - half) + part(x + half, right);
  if (told === 'invaded') return { under: part(view.left, right), over: '' };
  const [mark] = [unknownMark(x, archAt(x) - 8, 6)];
  return { under: '', over: sides + unknownLine(capsuleData(x - half, x + half)) + mark };
}

/** The edge of the lump on top of what it holds. */
function edge({ margin }: KnownNodule, id: string, data: string): string {
  const use = (more: string): string => `<use href="#${id}o" fill="none" ${more}/>`;
  if (margin === null) return unknownLine(data);
  if (margin === 'ill-defined') {
    // Thyroid washed over the edge, ever thinner towards the middle, and a haze where the two meet.
    const blur = (pen: string, widths: readonly number[]): string =>
      `<g ${pen}>${widths.map((width) => `<use href="#${id}o" stroke-width="${width}"/>`).join('')}</g>`;
    return (
      blur(`fill="none" stroke="${tissue.thyroid}" stroke-opacity=".3"`, [24, 18, 12, 7]) +
      blur('fill="none" stroke="#000" stroke-opacity=".08"', [15, 10, 6, 3])
    );
  }
  return (
    use('stroke="#fff" stroke-opacity=".55" stroke-width="3.2" stroke-linejoin="round"') +
    use('stroke="#111" stroke-width="1.5" stroke-linejoin="round"')
  );
}

/** The view with everything in it; `id` names its parts, one of its own in a page. */
export function sceneInk(nodule: KnownNodule, at: Placed, id: string): string {
  const data = outlineData(at, nodule.margin);
  const needed = { sponge: nodule.composition === 'spongiform', stripes: nodule.echogenicity === null };
  const inside = insideOf({ nodule, at, id });
  const shining = shiningIn(nodule, at);
  const around = capsule(nodule, at);
  const { x, y, across, down } = at;
  // Behind fluid it is brighter.
  const beam = `M${short(x - across * 0.72)} ${short(y + down * 0.7)}H${short(x + across * 0.72)}L${short(x + across * 0.9)} ${bottom}H${short(x - across * 0.9)}Z`;
  const behind = nodule.composition === 'cystic' ? `<path d="${beam}" fill="#fff" opacity=".38"/>` : '';
  const dark =
    nodule.composition === 'obscured'
      ? `<path d="M${short(x - across)} ${short(y)}H${short(x + across)}L${short(x + across * 1.12)} ${bottom}H${short(x - across * 1.12)}Z" fill="#000" opacity=".72"/>`
      : '';
  return [
    `<defs>${patterns(id, needed)}<path id="${id}o" d="${data}"/><clipPath id="${id}c"><use href="#${id}o"/></clipPath>`,
    `<clipPath id="${id}v"><path d="M${view.left} ${view.top}h${view.width}v${view.height}h${-view.width}z"/></clipPath></defs>`,
    `<g clip-path="url(#${id}v)">`,
    tissues(id),
    around.under,
    behind,
    dark,
    shining.beneath,
    shining.edge,
    `<g clip-path="url(#${id}c)">${inside.ink}</g>`,
    // A shadow falls through the lump too, and what throws it lies on top.
    shining.behind,
    `<g clip-path="url(#${id}c)">${shining.within}</g>`,
    edge(nodule, id, data),
    ghosts(nodule, at),
    around.over,
    inside.marks,
    nodule.margin === null ? unknownMark(x + across * 0.78, y - down * 0.66, 6) : '',
    shining.marks,
    '</g>',
  ].join('');
}

/** What the lump may be instead: of the least size that it can have, or standing where nobody knows its shape. */
function ghosts({ shape, size }: KnownNodule, { x, y, across, down, perMm }: Placed): string {
  const least = size !== null && perMm !== null && size.least < size.most ? size.least / size.most : null;
  const smaller = least === null ? '' : unknownLine(ovalData({ x, y, across: across * least, down: down * least }), 1);
  if (shape !== null) return smaller;
  const standing = ovalData({ x, y, across: down * 0.94, down: across * 0.94 });
  return smaller + unknownLine(standing, 1) + unknownMark(x + down * 0.5, Math.min(y + across * 0.94, bottom - 9), 6);
}
