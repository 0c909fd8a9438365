/** A lump drawn from what was answered, or from what is true of it: to scale, and unknown where nobody knows. */
import type { Nodule } from '../clinical/findings.ts';
import { type KnownNodule, knownNodule } from '../clinical/known.ts';
import { sayWord, type Words } from '../text/say-word.ts';
import { type Drawing, escaped, FONTS, short } from './ink.ts';
import { wrapped } from './letters.ts';
import { lookLines } from './look-words.ts';
import { layers, placed, view, viewFor } from './sonogram/frame.ts';
import { unknownMark } from './sonogram/marks.ts';
import { layerNames, rulers } from './sonogram/ruler.ts';
import { sceneInk } from './sonogram/scene.ts';

/** `id` begins the names of all parts: one of its own for each drawing in a page. Without it, one made from what is drawn. */
export interface NoduleOptions {
  readonly id?: string;
  /** What the view shows from side to side, mm, so that several lumps are drawn at one scale; its own without. */
  readonly viewMm?: number;
}

/** Size of the drawing without words under it; units, not millimetres. */
export const noduleSize = { width: 360, height: 236 } as const;

/** How much larger one view may be than another, so that the smaller lump is still seen well in it. */
const muchLarger = 1.4;

/**
 * One view that holds every one of these lumps, mm from side to side. Undefined when none was measured, and where a small
 * one would be lost in it: then each is drawn at its own scale, with its own ruler.
 */
export function viewOfAll(nodules: readonly Nodule[]): number | undefined {
  const views = nodules.map((one, at) => viewFor(knownNodule(one, at))).filter((one) => one !== null);
  const [least, most] = [Math.min(...views), Math.max(...views)];
  return views.length === 0 || most > least * muchLarger ? undefined : most;
}

/** The view with its rulers, and the names of the layers that greys are told by. All ink is grey or `currentColor`; letters are those around. */
export function noduleDrawing(
  looks: Nodule,
  words: Words,
  { viewMm, id = ownId(looks, viewMm) }: NoduleOptions = {},
): Drawing {
  return { ...noduleSize, ink: drawnInk(knownNodule(looks, 0), words, id, viewMm) };
}

/** The same for the same drawing, and hardly ever the same for two: names of parts that meet in one page must not. */
function ownId(looks: Nodule, viewMm: number | undefined): string {
  let sum = viewMm ?? 0;
  for (const letter of JSON.stringify(looks)) sum = (sum * 31 + letter.charCodeAt(0)) % 2_147_483_647;
  return `n${sum.toString(36)}`;
}

/** The view alone, without rulers and names: for a row of small pictures, each beside its words. */
export function noduleScene(looks: Nodule, { viewMm, id = ownId(looks, viewMm) }: NoduleOptions = {}): Drawing {
  const nodule = knownNodule(looks, 0);
  const ink = `<g transform="translate(${-view.left} ${-view.top})">${sceneInk(nodule, placed(nodule, viewMm), id)}</g>`;
  return { width: view.width, height: view.height, ink };
}

function drawnInk(nodule: KnownNodule, words: Words, id: string, viewMm: number | undefined): string {
  const at = placed(nodule, viewMm);
  const names = [
    [view.top + layers.fat / 2, sayWord(words, 'picture-skin')],
    [view.top + (layers.muscle + layers.capsule) / 2, sayWord(words, 'picture-muscle')],
    [view.top + view.height - 26, sayWord(words, 'picture-thyroid')],
  ] as const;
  return (
    sceneInk(nodule, at, id) +
    rulers(at, escaped(sayWord(words, 'picture-mm'))) +
    layerNames(names.map(([y, name]) => [y, escaped(name)]))
  );
}

const key = { left: 6, value: 124, size: 13, leading: 17, gap: 4, top: noduleSize.height + 18 } as const;

/**
 * The lump as an SVG of its own, well-formed: the drawing, and under it every look in words, a question mark before what is
 * not known. Title and description say the same to who does not see it. The greys are the same in every scheme; words and
 * rulers take the colour of the text around (`currentColor`).
 */
export function noduleSvg(looks: Nodule, words: Words, options: NoduleOptions = {}): string {
  const { viewMm, id = ownId(looks, viewMm) } = options;
  const nodule = knownNodule(looks, 0);
  const lines = lookLines(nodule, words);
  const title = sayWord(words, 'picture-title');
  const description = `${lines.map(({ name, told }) => `${name}: ${told}`).join('. ')}.`;
  let y = key.top;
  const rows = lines.map(({ name, told, known }) => {
    const mark = known
      ? `<circle cx="${key.left + 4}" cy="${y - 4.5}" r="3" fill="currentColor"/>`
      : unknownMark(key.left + 4, y - 4.5, 6);
    const names = wrapped(name, key.value - key.left - 18, key.size, 'bold');
    const values = wrapped(told, noduleSize.width - key.value - 4, key.size, 'plain');
    const from = y;
    const text = (x: number, row: number, words: string, heavy: boolean): string =>
      `<text x="${x}" y="${short(from + row * key.leading)}"${heavy ? ' font-weight="bold"' : ''}>${escaped(words)}</text>`;
    y += Math.max(names.length, values.length) * key.leading + key.gap;
    return [
      mark,
      ...names.map((one, row) => text(key.left + 16, row, one, true)),
      ...values.map((one, row) => text(key.value, row, one, false)),
    ].join('');
  });
  const height = y - key.leading + 10;
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${noduleSize.width} ${short(height)}" role="img" aria-labelledby="${id}t ${id}d" font-family="${FONTS}">`,
    `<title id="${id}t">${escaped(title)}</title><desc id="${id}d">${escaped(description)}</desc>`,
    `<g class="scene">${drawnInk(nodule, words, id, viewMm)}</g>`,
    `<g class="key" font-size="${key.size}" fill="currentColor">${rows.join('')}</g>`,
    '</svg>',
  ].join('');
}
