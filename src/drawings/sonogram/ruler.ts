/** Rulers beside the view, with the measured diameters laid on them. They are of the colour of the text around the picture. */
import { short } from '../ink.ts';
import { type Placed, view } from './frame.ts';

const right = view.left + view.width;
const bottom = view.top + view.height;
const letters = 'font-size="11" fill="currentColor"';

/** A figure on a ruler. */
const said = (x: number, y: number, text: string, anchor: 'middle' | 'end' = 'middle'): string =>
  `<text x="${short(x)}" y="${short(y)}" ${letters} font-weight="bold" text-anchor="${anchor}">${text}</text>`;

const bar = (data: string, known: boolean): string =>
  `<path d="${data}" stroke="currentColor" fill="none" ${known ? 'stroke-width="3"' : 'stroke-width="2" stroke-dasharray="2.5 3.5"'}/>`;

/** mm from tick to tick: at most forty of them along the bottom. */
const stepFor = (viewMm: number): number => [1, 2, 5, 10, 20].find((one) => viewMm / one <= 40) ?? 50;

/** Ticks along the bottom and the left edge. Every fifth is longer. */
function ticks(perMm: number): string {
  const step = stepFor(view.width / perMm);
  const along = (length: number, tick: (from: number, size: number) => string): string =>
    Array.from({ length: Math.floor(length / (perMm * step)) + 1 }, (_, at) =>
      tick(at * step * perMm, at % 10 === 0 ? 6 : at % 5 === 0 ? 4.5 : 2.5),
    ).join('');
  const low = along(view.width, (from, size) => `M${short(view.left + from)} ${bottom + 1}v${size}`);
  const side = along(view.height, (from, size) => `M${view.left - 1} ${short(view.top + from)}h${-size}`);
  return `<path d="${low}${side}" stroke="currentColor" stroke-width=".8"/>`;
}

/** `22` or `8-12`. */
const mmText = ([least, most]: readonly [number, number]): string =>
  least === most ? short(most) : `${short(least)}-${short(most)}`;

/** Beside the upright ruler there is room for one figure a line. */
function sideFigures(mm: readonly [number, number] | null): readonly string[] {
  if (mm === null) return ['?'];
  return mm[0] === mm[1] ? [short(mm[1])] : [short(mm[0]), '-', short(mm[1])];
}

/** Rulers of a lump; without a size there is none, and a question mark at either side. */
export function rulers({ x, y, across, down, perMm, acrossMm, downMm }: Placed, unit: string): string {
  const [low, side] = [bottom + 11, view.left - 10];
  // The lower end of a lump that is cut by the view is not drawn beyond it.
  const deepest = Math.min(bottom, y + down);
  const guides = `M${short(x - across)} ${short(y)}V${bottom}M${short(x + across)} ${short(y)}V${bottom}M${short(x)} ${short(y - down)}H${view.left}M${short(x)} ${short(deepest)}H${view.left}`;
  const both = [
    `<path d="${guides}" stroke="#fff" stroke-width=".9" stroke-dasharray="1.5 3" fill="none"/>`,
    bar(`M${short(x - across)} ${low}H${short(x + across)}`, acrossMm !== null),
    bar(`M${side} ${short(y - down)}V${short(deepest)}`, downMm !== null),
    said(x, low + 14, acrossMm === null ? '?' : `${mmText(acrossMm)} ${unit}`),
    ...sideFigures(downMm).map((one, row, all) =>
      said(side - 5, y + 4 + (row - (all.length - 1) / 2) * 11, one, 'end'),
    ),
  ].join('');
  return perMm === null ? both : ticks(perMm) + both;
}

/** Names of the layers, at the right of the view, each with a line to what it names. */
export function layerNames(names: readonly (readonly [y: number, name: string])[]): string {
  return names
    .map(
      ([y, name]) =>
        `<path d="M${right + 1} ${short(y)}h6" stroke="currentColor" stroke-width="1"/><text x="${right + 10}" y="${short(y + 4)}" ${letters}>${name}</text>`,
    )
    .join('');
}
