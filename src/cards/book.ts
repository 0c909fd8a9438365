/** All cards of a language, in the order of their numbers, as pages and as one file to print. */

import { escaped } from '../drawings/ink.ts';
import type { Block } from './blocks.ts';
import { type Page, pageOf, pageSvg } from './page.ts';
import { firstAidCard, positionCard } from './pages/body.ts';
import { doctorCard, laboratoryCard } from './pages/desks.ts';
import { labelCard } from './pages/label.ts';
import { looksCard } from './pages/looks.ts';
import { numbersCard } from './pages/numbers.ts';
import { holdingCard, smearCard, strokesCard } from './pages/technique.ts';
import { wordsCard } from './pages/words.ts';
import type { Told } from './told.ts';

/** By their names, which texts never say: people say `card 3`. A new one comes last, so that no number changes its card. */
const cards: readonly (readonly [name: string, body: (told: Told) => Block | null])[] = [
  ['words', wordsCard],
  ['holding', holdingCard],
  ['strokes', strokesCard],
  ['smear', smearCard],
  ['label', labelCard],
  ['first-aid', firstAidCard],
  ['position', positionCard],
  ['laboratory', laboratoryCard],
  ['doctor', doctorCard],
  ['numbers', numbersCard],
  ['looks', looksCard],
];

/** The pages; `overfull`: numbers of cards whose words do not fit a page. */
export function pagesOf(told: Told): { readonly pages: readonly Page[]; readonly overfull: readonly number[] } {
  const laid = cards.map(([name, make], at) => {
    const said = {
      card: told.say('card', { number: String(at + 1) }),
      title: told.say(`${name}-card`),
      foot: told.say('foot'),
    };
    const body = make(told);
    return body === null ? at + 1 : pageOf(at + 1, said, body);
  });
  return {
    pages: laid.filter((one) => typeof one !== 'number'),
    overfull: laid.filter((one) => typeof one === 'number'),
  };
}

/** One file that needs nothing else: no script, no network, no font. Prints one card a sheet. */
export function htmlOf(
  pages: readonly Page[],
  { locale, title }: { readonly locale: string; readonly title: string },
): string {
  const style = [
    '@page{size:A4 portrait;margin:0}',
    'html,body{margin:0;padding:0;background:#fff;color:#000}',
    'section{width:210mm;height:296.8mm;overflow:hidden;page-break-after:always;break-after:page}',
    'section:last-child{page-break-after:auto;break-after:auto}',
    'section>svg{display:block;width:210mm;height:296.8mm}',
    '@media screen{section{margin:4mm auto;outline:1px solid #aaa}}',
  ].join('');
  const sheets = pages.map((page) => `<section id="card-${page.number}">\n${pageSvg(page)}\n</section>`);
  return [
    `<!doctype html>\n<html lang="${locale}">\n<head>\n<meta charset="utf-8">`,
    `<meta name="viewport" content="width=device-width, initial-scale=1">\n<title>${escaped(title)}</title>`,
    `<style>${style}</style>\n</head>\n<body>`,
    ...sheets,
    '</body>\n</html>\n',
  ].join('\n');
}
