/** Cards of words: what to send, and what it does. */
import { type Block, beside, paragraph, ruled, stacked } from './blocks.ts';
import { BODY, BODY_HEIGHT } from './page.ts';

/** A heading and its rows: what is sent, what it does. */
export interface Section {
  readonly heading: string;
  readonly rows: readonly (readonly [sent: string, does: string])[];
}

interface TableShape {
  readonly width: number;
  readonly size: number;
  /** Part of the width for what is sent. */
  readonly left: number;
}

/** One section as wide as `width`. */
export function table({ heading, rows }: Section, shape: TableShape): Block {
  return stacked([headed(heading, shape), ...rows.map((row) => rowBlock(row, shape))], shape.size * 0.3);
}

function headed(heading: string, { width, size }: TableShape): Block {
  return stacked([paragraph(heading, width, size * 1.06, { weight: 'bold' }), ruled(width, 0.4, 0.6)], 0);
}

function rowBlock([sent, does]: readonly [string, string], { width, size, left }: TableShape): Block {
  const first = width * left;
  return beside([paragraph(sent, first, size, { weight: 'bold' }), paragraph(does, width - first - 2, size)], 2);
}

/** Sections in two columns, in their order, each whole; null: they are higher than what is left under `above`. */
export function twoColumns(sections: readonly Section[], size: number, above: number): Block | null {
  const gap = 7;
  const shape = { width: (BODY.width - gap) / 2, size, left: 0.34 };
  const blocks = sections.map((one) => table(one, shape));
  const limit = BODY_HEIGHT - above;
  for (let cut = 0; cut <= blocks.length; cut += 1) {
    const columns = [blocks.slice(0, cut), blocks.slice(cut)].map((part) => stacked(part, size * 0.9));
    if (columns.every((one) => one.height <= limit)) return beside(columns, gap);
  }
  return null;
}
