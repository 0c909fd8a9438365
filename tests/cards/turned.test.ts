import { describe, expect, it } from 'vitest';
import { paragraph } from '../../src/cards/blocks.ts';
import { A4, MARGIN, pageOf, pageSvg } from '../../src/cards/page.ts';
import { unknownPlace } from '../../src/content/cards.ts';
import { drawn } from '../support/drawn.ts';
import { shipped } from '../support/shipped.ts';
import { longPlace, pagesFor } from './shipped-cards.ts';

const said = { card: 'بطاقة 1', title: 'إسعاف أولي', foot: 'الخط يساعد' };
const card = (title: string) => pageSvg(pageOf(1, { ...said, title }, paragraph('الضغط 5-10 الآن', 100, 5)));
const startOf = (svg: string, words: string) =>
  Number(new RegExp(`<text x="([\\d.]+)"[^>]*>[^<]*${words}`, 'u').exec(svg)?.[1]);

describe('a card of a language that is written from right to left', () => {
  it('begins at the right, with its frames there, and figures in their order', () => {
    const svg = card(said.title);
    expect(svg).toContain('direction="rtl"');
    expect(startOf(svg, 'الضغط')).toBe(A4.width - MARGIN);
    expect(svg).toContain(`<g transform="translate(${A4.width} 0) scale(-1 1)">`);
    expect(svg).toContain('\u200e5-10');
  });

  it('of another begins at the left', () => {
    const svg = card('First aid');
    expect(svg).not.toContain('rtl');
    expect(svg).not.toContain('scale(-1 1)');
    expect(startOf(svg, 'الضغط')).toBe(MARGIN);
  });
});

/** What a browser draws of each line of words on a page, and on its drawings. */
function linesDrawn(svg: string): readonly string[] {
  return [...svg.matchAll(/<text ([^>]*)>([^<]*)</gu)].map(([, looks = '', words = '']) =>
    drawn(words.replaceAll('&quot;', '"').replaceAll('&amp;', '&'), looks.includes('direction="rtl"') ? 'rtl' : 'ltr'),
  );
}

/** Figures and Latin words that stand beside each other in a line, as they are said. */
const sameWay = /(?<![\p{L}\d])[A-Za-z\d+][A-Za-z\d+./ -]*[A-Za-z\d]/gu;

const places = [unknownPlace, longPlace, { ...longPlace, voice: '0712 345 678' }];

describe.each(shipped.sources.locales.map(({ tag }) => tag))('on the cards in %s', (tag) => {
  const pages = (['plain', 'brief'] as const).flatMap((voice) =>
    places.flatMap((place) => pagesFor(voice, place, tag)),
  );

  it('each code, number to dial and Latin name is drawn in the order in which it is said', () => {
    const wrong = pages.flatMap((page) => {
      const seen = linesDrawn(pageSvg(page)).map((line) => line.replaceAll('\u00a0', ' '));
      const said = page.texts.map(({ text }) =>
        text.replaceAll('4829 1354', isTurned(tag) ? '4829.1354' : '4829 1354'),
      );
      const runs = said.flatMap((line) => [...line.matchAll(sameWay)].map(([run]) => run));
      return runs.filter((run) => !seen.some((line) => line.includes(run))).map((run) => `${page.number}: ${run}`);
    });
    expect(wrong).toEqual([]);
  });

  it('the glass and the text beside it say the same code', () => {
    const label = pages.filter((page) => page.texts.some(({ text }) => text === '4829 1354'));
    expect(label.length).toBeGreaterThan(0);
    for (const page of label) {
      const codes = linesDrawn(pageSvg(page)).filter((line) => /^4829.1354$|^1354.4829$/u.test(line));
      expect(new Set(codes)).toEqual(new Set([isTurned(tag) ? '4829.1354' : '4829 1354']));
      expect(codes.length).toBeGreaterThan(2);
    }
  });
});

const isTurned = (tag: string): boolean => tag === 'ar';
