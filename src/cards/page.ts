/** A page of A4: head, body, foot. Millimetres. */

import { withPointedCodes } from '../case/code.ts';
import { escaped, FONTS, short } from '../drawings/ink.ts';
import { widthOf } from '../drawings/letters.ts';
import { drawnRightToLeft, hasRightToLeft, isRightToLeft } from '../text/direction.ts';
import {
  type Block,
  beside,
  framed,
  type Marks,
  nothing,
  type Picture,
  paragraph,
  room,
  ruled,
  stacked,
  type TextLine,
  together,
} from './blocks.ts';

export const A4 = { width: 210, height: 297 } as const;
/** Between paper and print: wider than what printers leave white. Our convention. */
export const MARGIN = 12;
/** Room for the body of a card. */
export const BODY = { width: A4.width - 2 * MARGIN, top: MARGIN + 19, bottom: A4.height - MARGIN - 11 } as const;
export const BODY_HEIGHT = BODY.bottom - BODY.top;

export interface Page extends Marks {
  readonly number: number;
  readonly title: string;
}

/** Sizes of letters that are tried, from what is read across a room to the least that is read at arm's length, mm. */
const SIZES = [6.4, 6, 5.6, 5.2, 4.8, 4.5, 4.2, 4, 3.8, 3.6, 3.4] as const;

/** The body in the largest letters with which it fits a page; null: it does not fit. */
export function largest(make: (size: number) => Block): Block | null {
  for (const size of SIZES) {
    const block = make(size);
    if (block.height <= BODY_HEIGHT && block.width <= BODY.width + 0.01) return block;
  }
  return null;
}

/** A page with its head (`card 3` in a frame, the title) and its foot. */
export function pageOf(
  number: number,
  said: { readonly card: string; readonly title: string; readonly foot: string },
  body: Block,
): Page {
  const badge = framed(paragraph(said.card, widthOf(said.card, 6.4, 'bold') + 1, 6.4, { weight: 'bold' }), {
    padding: 2,
    heavy: true,
  });
  const room4 = BODY.width - badge.width - 5;
  const size = [7.4, 6.6, 5.8, 5, 4.4].find((one) => widthOf(said.title, one, 'bold') <= room4) ?? 4;
  const title = paragraph(said.title, room4, size, { weight: 'bold' });
  const head = beside([badge, stacked([room(1, (badge.height - title.height) / 2), title], 0)], 5);
  const foot = stacked([ruled(BODY.width, 0.5), paragraph(said.foot, BODY.width, 3.2)], 1.2);
  return {
    number,
    title: said.title,
    ...together([
      head.at(MARGIN, MARGIN),
      body.at(MARGIN, BODY.top),
      foot.at(MARGIN, A4.height - MARGIN - foot.height),
      nothing,
    ]),
  };
}

/**
 * One line of text as SVG. `turned`: on a page that is read from right to left, where it stands as the line sends it. A line without
 * letters of such a script (a code, a number to dial, Latin words) keeps its own order and ends where the others begin.
 */
export function textSvg({ x, y, size, weight, centred, text }: TextLine, turned = false): string {
  const [at, words] = turned ? [A4.width - x, drawnRightToLeft(withPointedCodes(text))] : [x, text];
  const reads = turned && hasRightToLeft(text);
  const direction = reads ? ' direction="rtl"' : '';
  const anchor = centred ? ' text-anchor="middle"' : turned && !reads ? ' text-anchor="end"' : '';
  const heavy = weight === 'bold' ? ' font-weight="bold"' : '';
  return `<text x="${short(at)}" y="${short(y)}" font-size="${short(size)}"${heavy}${anchor}${direction} xml:space="preserve">${escaped(words)}</text>`;
}

/** One drawing as SVG, with its title and description. `id` is unique in the file. */
export function pictureSvg({ x, y, width, height, drawing, title, description }: Picture, id: string): string {
  return [
    `<svg x="${short(x)}" y="${short(y)}" width="${short(width)}" height="${short(height)}" viewBox="0 0 ${drawing.width} ${drawing.height}" overflow="hidden" role="img" aria-labelledby="${id}t ${id}d">`,
    `<title id="${id}t">${escaped(title)}</title><desc id="${id}d">${escaped(description)}</desc>${drawing.ink}</svg>`,
  ].join('');
}

/**
 * A page, or what is given of its marks, as one SVG of 210 x 297 mm on white. In a language that is written from right to left all
 * stands on the other side; what is drawn is not turned.
 */
export function pageSvg(page: Page): string {
  const turned = isRightToLeft(page.title);
  const rules = turned ? [`<g transform="translate(${A4.width} 0) scale(-1 1)">`, ...page.rules, '</g>'] : page.rules;
  const placed = (one: Picture): Picture => (turned ? { ...one, x: A4.width - one.x - one.width } : one);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${A4.width} ${A4.height}" width="${A4.width}mm" height="${A4.height}mm" font-family="${FONTS}" fill="#000">`,
    `<rect width="${A4.width}" height="${A4.height}" fill="#fff"/>`,
    ...rules,
    ...page.pictures.map((one, at) => pictureSvg(placed(one), `c${page.number}p${at + 1}`)),
    ...page.texts.map((one) => textSvg(one, turned)),
    '</svg>',
  ].join('\n');
}
