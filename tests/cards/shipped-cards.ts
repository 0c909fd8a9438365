import { Resvg } from '@resvg/resvg-js';
import type { Marks } from '../../src/cards/blocks.ts';
import { A4, type Page, pictureSvg, textSvg } from '../../src/cards/page.ts';
import type { Place } from '../../src/cards/told.ts';
import { cardsOf, unknownPlace } from '../../src/content/cards.ts';
import { packageRoot } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { wordRows } from '../../src/conversation/roles.ts';
import type { Voice } from '../../src/conversation/texts.ts';
import { shipped } from '../support/shipped.ts';

/** Every word that the line always takes. */
export const keywords: readonly string[] = wordRows(registry).map(({ word }) => word);

/** Names as long as a programme may have them. */
export const longPlace: Place = {
  clinic: 'KITUMBINI HEALTH POST WE',
  hospital: 'Regional Referral Hospital Kitumbini',
  night: 'Regional Referral Hospital, gate 12w',
  voice: '+000 555 0100 99',
  line: '+000 555 0123 45',
  laboratory: { name: 'Central Pathology Laboratory Velin', address: 'Box 1207, Long Market Street 48, Velin' },
};

export function pagesFor(voice: Voice, place: Place = unknownPlace, locale = 'en'): readonly Page[] {
  const { pages, problems } = cardsOf(shipped, packageRoot, { locale, voice, keywords, place });
  if (problems.length > 0) throw new Error(JSON.stringify(problems));
  return pages;
}

const fonts = new URL('../../node_modules/dejavu-fonts-ttf/ttf/', import.meta.url);
const font = {
  loadSystemFonts: false,
  fontFiles: ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((name) => new URL(name, fonts).pathname),
  defaultFontFamily: 'DejaVu Sans',
};

export interface Pixels {
  readonly width: number;
  readonly height: number;
  /** Pixels a millimetre. */
  readonly perMm: number;
  /** Red, green, blue of a pixel, 0 to 255. */
  at(x: number, y: number): readonly [number, number, number];
}

/** An SVG as pixels; `mm` = what its width is in millimetres. */
export function rendered(svg: string, mm: number = A4.width, width = 840): Pixels {
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: width }, font }).render();
  const bytes = image.pixels;
  return {
    ...{ width: image.width, height: image.height, perMm: image.width / mm },
    at: (x, y) => {
      const from = (y * image.width + x) * 4;
      return [bytes[from]!, bytes[from + 1]!, bytes[from + 2]!];
    },
  };
}

/** What a text really takes in this font, in the unit of `size`. */
export function realWidth(text: string, size: number, bold: boolean): number {
  const line = textSvg({ x: 10, y: 50, size, weight: bold ? 'bold' : 'plain', centred: false, text });
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4000 100" width="4000" height="100" font-family="DejaVu Sans">${line}</svg>`;
  return new Resvg(svg, { font }).getBBox()?.width ?? 0;
}

const half = (svg: string): string => `<g opacity="0.5">${svg}</g>`;

/** A page whose lines of text, drawings and rules are half black each: where two of them meet it is darker than any one. */
export function halves(page: Marks): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${A4.width} ${A4.height}" width="${A4.width}mm" height="${A4.height}mm" font-family="DejaVu Sans">`,
    `<rect width="${A4.width}" height="${A4.height}" fill="#fff"/>`,
    ...page.rules.map(half),
    ...page.pictures.map((one, at) => half(pictureSvg(one, `p${at}`))),
    ...page.texts.map((one) => half(textSvg(one))),
    '</svg>',
  ].join('');
}
