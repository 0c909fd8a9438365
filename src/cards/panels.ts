/** Cards of drawings: each drawing with its number and what to do, in columns. */

import type { Drawing } from '../drawings/ink.ts';
import { type Block, beside, framed, numberRing, paragraph, picture, stacked } from './blocks.ts';
import { BODY, BODY_HEIGHT } from './page.ts';
import type { Told } from './told.ts';

/** `key`: of the text; its drawing is told by `key-title` and `key-drawing`, a word in front of it is `key-head`. */
export interface Panel {
  readonly key: string;
  readonly drawing: Drawing;
  readonly headed?: boolean;
}

interface PanelCard {
  readonly panels: readonly Panel[];
  readonly columns: 1 | 2;
  /** The most that a drawing needs, mm, where words need the room. */
  readonly highest?: number;
  /** What is said above and below the drawings, one frame each; `heavy`: it must be seen first. */
  readonly above?: readonly string[];
  readonly heavy?: boolean;
  readonly below?: readonly string[];
}

/** Sizes of letters, tried from the largest; a drawing may shrink to this part of its column before they do. */
const SIZES = [5.4, 5.1, 4.8, 4.5, 4.2, 4] as const;
const SMALLEST_DRAWING = 0.84;
const HIGHEST_DRAWING = 66;
const GAP = 6;

/** The body of such a card; null: its words do not fit beside drawings of a size that can be read. */
export function panelBody(told: Told, card: PanelCard): Block | null {
  const width = (BODY.width - (card.columns - 1) * GAP) / card.columns;
  const rows = inRows(card.panels, card.columns);
  const wanted = rows.map((row) =>
    Math.min(
      card.highest ?? HIGHEST_DRAWING,
      Math.max(...row.map(({ drawing }) => (width * drawing.height) / drawing.width)),
    ),
  );
  const inAll = wanted.reduce((sum, one) => sum + one, 0);
  for (const size of SIZES) {
    const above = notes(card.above ?? [], card.heavy === true ? size * 1.1 : size, card.heavy);
    const below = notes(card.below ?? [], size * 0.92);
    const captions = rows.map((row) => Math.max(...row.map((one) => caption(told, card, one, width, size).height)));
    const fixed = [...above, ...below].reduce((sum, one) => sum + one.height + GAP, 0);
    const left = BODY_HEIGHT - fixed - captions.reduce((sum, one) => sum + one + 2, 0) - (rows.length - 1) * GAP;
    if (left < inAll * SMALLEST_DRAWING) continue;
    const part = Math.min(1, left / inAll);
    const drawn = rows.map((row, at) =>
      beside(
        row.map((one) => drawnPanel(told, card, one, width, wanted[at]! * part, size)),
        GAP,
      ),
    );
    const all = [...above, ...drawn, ...below];
    const spare = (left - inAll * part) / Math.max(1, all.length - 1);
    return stacked(all, GAP + Math.min(spare, 8));
  }
  return null;
}

function inRows(panels: readonly Panel[], columns: number): readonly (readonly Panel[])[] {
  return Array.from({ length: Math.ceil(panels.length / columns) }, (_, row) =>
    panels.slice(row * columns, (row + 1) * columns),
  );
}

function notes(said: readonly string[], size: number, heavy = false): readonly Block[] {
  const weight = heavy ? 'bold' : 'plain';
  return said.map((text) => framed(paragraph(text, BODY.width - 8, size, { weight }), { padding: 4, heavy }));
}

function drawnPanel(told: Told, card: PanelCard, panel: Panel, width: number, height: number, size: number): Block {
  const { key, drawing } = panel;
  const seen = { title: told.say(`${key}-title`), description: told.say(`${key}-drawing`) };
  return stacked([picture(drawing, seen, width, height), caption(told, card, panel, width, size)], 2);
}

function caption({ say }: Told, { panels }: PanelCard, panel: Panel, width: number, size: number): Block {
  const ring = numberRing(panels.indexOf(panel) + 1, size);
  const beyond = width - ring.width - 2;
  const head = panel.headed === true ? [paragraph(say(`${panel.key}-head`), beyond, size, { weight: 'bold' })] : [];
  return beside([ring, stacked([...head, paragraph(say(panel.key), beyond, size)], 0)], 2);
}
