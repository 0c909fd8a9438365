/** Blocks that a page is put together from: each knows its size before it is placed. All in millimetres. */
import { circle, type Drawing, type Ink, lines } from '../drawings/ink.ts';
import { type Weight, wrapped } from '../drawings/letters.ts';

/** One line of text; `y` is its base line. */
export interface TextLine {
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly weight: Weight;
  readonly centred: boolean;
  readonly text: string;
}

/** A drawing in its place, with what a reader who does not see it is told. */
export interface Picture {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly drawing: Drawing;
  readonly title: string;
  readonly description: string;
}

/** What stands on a page. `rules`: frames and lines. */
export interface Marks {
  readonly texts: readonly TextLine[];
  readonly pictures: readonly Picture[];
  readonly rules: readonly Ink[];
}

export interface Block {
  readonly width: number;
  readonly height: number;
  /** Its marks, the upper left corner here. */
  at(x: number, y: number): Marks;
}

/** Above the base line, and from one line to the next, as parts of the size. */
const ASCENT = 0.8;
const LEADING = 1.3;

export const nothing: Marks = { texts: [], pictures: [], rules: [] };

export function together(all: readonly Marks[]): Marks {
  return {
    texts: all.flatMap((one) => one.texts),
    pictures: all.flatMap((one) => one.pictures),
    rules: all.flatMap((one) => one.rules),
  };
}

/** Text in lines as wide as they may be. */
export function paragraph(
  text: string,
  width: number,
  size: number,
  { weight = 'plain', centred = false }: { weight?: Weight; centred?: boolean } = {},
): Block {
  const all = wrapped(text, width, size, weight);
  return {
    width,
    height: all.length * size * LEADING,
    at: (x, y) => ({
      ...nothing,
      texts: all.map((line, row) => ({
        ...{ x: centred ? x + width / 2 : x, y: y + size * (ASCENT + 0.12 + row * LEADING) },
        ...{ size, weight, centred, text: line },
      })),
    }),
  };
}

/** Blocks under each other. */
export function stacked(blocks: readonly Block[], gap: number): Block {
  const height = blocks.reduce((sum, one) => sum + one.height, 0) + gap * Math.max(0, blocks.length - 1);
  return {
    width: Math.max(0, ...blocks.map((one) => one.width)),
    height,
    at: (x, y) => {
      let top = y;
      return together(
        blocks.map((one) => {
          const marks = one.at(x, top);
          top += one.height + gap;
          return marks;
        }),
      );
    },
  };
}

/** Blocks side by side, their tops on one line. */
export function beside(blocks: readonly Block[], gap: number): Block {
  return {
    width: blocks.reduce((sum, one) => sum + one.width, 0) + gap * Math.max(0, blocks.length - 1),
    height: Math.max(0, ...blocks.map((one) => one.height)),
    at: (x, y) => {
      let left = x;
      return together(
        blocks.map((one) => {
          const marks = one.at(left, y);
          left += one.width + gap;
          return marks;
        }),
      );
    },
  };
}

/** A block in a frame; `heavy` for what must be seen first. */
export function framed(block: Block, { padding = 3, heavy = false } = {}): Block {
  const [width, height] = [block.width + 2 * padding, block.height + 2 * padding];
  return {
    width,
    height,
    at: (x, y) => {
      const corners = [
        [x, y],
        [x + width, y],
        [x + width, y + height],
        [x, y + height],
      ] as const;
      const frame = lines([...corners, corners[0]], { width: heavy ? 1.4 : 0.5 });
      return together([block.at(x + padding, y + padding), { ...nothing, rules: [frame] }]);
    },
  };
}

/** Empty room. */
export function room(width: number, height: number): Block {
  return { width, height, at: () => nothing };
}

/** A line to write on, or between parts. */
export function ruled(width: number, height: number, thick = 0.4): Block {
  return {
    width,
    height,
    at: (x, y) => ({
      ...nothing,
      rules: [
        lines(
          [
            [x, y + height],
            [x + width, y + height],
          ],
          { width: thick },
        ),
      ],
    }),
  };
}

/** A drawing as large as the room allows, in its middle. */
export function picture(
  drawing: Drawing,
  told: { readonly title: string; readonly description: string },
  width: number,
  height: number,
): Block {
  const scale = Math.min(width / drawing.width, height / drawing.height);
  const size = { width: drawing.width * scale, height: drawing.height * scale };
  return {
    width,
    height,
    at: (x, y) => ({
      ...nothing,
      pictures: [{ x: x + (width - size.width) / 2, y: y + (height - size.height) / 2, ...size, drawing, ...told }],
    }),
  };
}

/** A number in a ring, as high as a line of text. */
export function numberRing(number: number, size: number): Block {
  const radius = size * 0.78;
  return {
    width: radius * 2,
    height: size * LEADING,
    at: (x, y) => ({
      ...nothing,
      rules: [circle(x + radius, y + size * 0.64, radius, { width: 0.5 })],
      texts: [
        { x: x + radius, y: y + size * 0.92, size: size * 0.8, weight: 'bold', centred: true, text: String(number) },
      ],
    }),
  };
}
