import { describe, expect, it } from 'vitest';
import { paragraph } from '../../src/cards/blocks.ts';
import { A4, MARGIN, pageOf, pageSvg } from '../../src/cards/page.ts';

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
