import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { A4, type Page, pageSvg } from '../../src/cards/page.ts';
import { unknownPlace } from '../../src/content/cards.ts';
import { widthOf, wrapped } from '../../src/drawings/letters.ts';
import { partOfToday } from '../support/runs.ts';
import { halves, longPlace, type Pixels, pagesFor, realWidth, rendered } from './shipped-cards.ts';

/** What printers may leave white, mm. */
const EDGE = 8;
/** Half black is 127; where two halves meet it is 63. Between: softened edges. */
const TWICE = 100;

const cards = (['plain', 'brief'] as const).flatMap((voice) =>
  (
    [
      ['by hand', unknownPlace],
      ['long names', longPlace],
    ] as const
  ).flatMap(([names, place]) =>
    pagesFor(voice, place).map((page) => ({ name: `card ${page.number}, ${voice}, ${names}`, page })),
  ),
);

describe.each(partOfToday(cards, 2))('$name', ({ page }) => {
  const printed = once(() => rendered(pageSvg(page)));
  const layers = once(() => rendered(halves(page)));

  it('is black, grey and white, and there is something on it', () => {
    const seen = tally(printed(), ([r, g, b]) => (r !== g || g !== b ? 'colour' : r < 128 ? 'ink' : 'paper'));
    expect(seen.get('colour') ?? 0).toBe(0);
    expect(seen.get('ink')! / (printed().width * printed().height)).toBeGreaterThan(0.01);
  });

  it('leaves the edge of the paper white', () => {
    const image = printed();
    const edge = EDGE * image.perMm;
    const inEdge = (x: number, y: number) =>
      x < edge || y < edge || x >= image.width - edge || y >= image.height - edge;
    expect(places(image, ([r], x, y) => r < 250 && inEdge(x, y))).toEqual([]);
  });

  it('no line of text lies over another, over a drawing or over a frame', () => {
    expect(places(layers(), ([r]) => r < TWICE)).toEqual([]);
  });

  it('no line of text stands inside a drawing', () => {
    const inside = page.texts.filter((line) => {
      const { left, right } = ends(line);
      const [top, bottom] = [line.y - line.size * 0.76, line.y + line.size * 0.24];
      return page.pictures.some(
        (one) => left < one.x + one.width && right > one.x && top < one.y + one.height && bottom > one.y,
      );
    });
    expect(inside.map(({ text }) => text)).toEqual([]);
  });

  it('no line of text is cut by the edge of the paper', () => {
    const wide = page.texts.filter((line) => ends(line).left < EDGE || ends(line).right > A4.width - EDGE);
    expect(wide.map(({ text }) => text)).toEqual([]);
  });

  it("letters are large enough to be read at arm's length", () => {
    // Newspapers print 8 to 9 points, which is 3 mm.
    expect(page.texts.filter(({ size }) => size < 3.1).map(({ text }) => text)).toEqual([]);
  });

  it('each drawing is told in a title and a description to who does not see it', () => {
    for (const { title, description } of page.pictures) {
      expect(title.length).toBeGreaterThan(8);
      expect(description.split(' ').length).toBeGreaterThan(6);
    }
  });
});

describe('what the tests of a page rely on', () => {
  const [page] = pagesFor('plain') as [Page];

  it('two lines over each other are seen', () => {
    const [line] = page.texts as [Page['texts'][number]];
    const moved = { ...page, texts: [...page.texts, { ...line, x: line.x + 1 }] };
    expect(places(rendered(halves(moved)), ([r]) => r < TWICE).length).toBeGreaterThan(0);
  });

  it('a line over a drawing is seen', () => {
    const drawn = pagesFor('plain')[1]!;
    const [{ x, y, width, height }] = drawn.pictures as [Page['pictures'][number]];
    const line = { ...drawn.texts[0]!, x: x + width / 2 - 4, y: y + height / 2 };
    expect(places(rendered(halves({ ...drawn, texts: [line] })), ([r]) => r < TWICE).length).toBeGreaterThan(0);
  });
});

describe('lines of text', () => {
  it.each([
    ['plain', false],
    ['bold', true],
  ] as const)('no %s letter is wider than lines are broken by', (weight, bold) => {
    const letters = Array.from({ length: 94 }, (_, at) => String.fromCharCode(33 + at));
    const more = [...'\u00e9\u00e8\u00e0\u00f9\u00f1\u00fc\u00e7\u00c9\u00d1\u00c5'];
    // Twenty of a letter: what a glyph takes beside its ink is counted too.
    const wider = [...letters, ...more].filter(
      (one) => realWidth(one.repeat(20), 10, bold) > widthOf(one.repeat(20), 10, weight) + 0.5,
    );
    expect(wider).toEqual([]);
  });

  it('lose no word and are no wider than they may be, whatever the text', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 200 }), fc.integer({ min: 10, max: 180 }), (text, width) => {
        const all = wrapped(text, width, 4, 'plain');
        const bare = (one: string) => one.replace(/[ \n]/gu, '');
        expect(bare(all.join(''))).toBe(bare(text));
        for (const line of all) {
          if ([...line].length > 1) expect(widthOf(line, 4, 'plain')).toBeLessThanOrEqual(width);
        }
      }),
    );
  });
});

function ends({ x, text, size, weight, centred }: Page['texts'][number]) {
  const width = widthOf(text, size, weight);
  const left = centred ? x - width / 2 : x;
  return { left, right: left + width };
}

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}

function tally<K>(image: Pixels, of: (colour: readonly [number, number, number]) => K): ReadonlyMap<K, number> {
  const counts = new Map<K, number>();
  for (let y = 0; y < image.height; y += 1) {
    for (let x = 0; x < image.width; x += 1) {
      const kind = of(image.at(x, y));
      counts.set(kind, (counts.get(kind) ?? 0) + 1);
    }
  }
  return counts;
}

/** Where, in mm, pixels are so; the first ten. */
function places(
  image: Pixels,
  is: (colour: readonly [number, number, number], x: number, y: number) => boolean,
): readonly string[] {
  const found: string[] = [];
  for (let y = 0; y < image.height && found.length < 10; y += 1) {
    for (let x = 0; x < image.width && found.length < 10; x += 1) {
      if (is(image.at(x, y), x, y)) found.push(`${(x / image.perMm).toFixed(1)} ${(y / image.perMm).toFixed(1)} mm`);
    }
  }
  return found;
}
