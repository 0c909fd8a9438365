import { countSegments } from './segments.ts';

/** How a long text is cut for networks that cannot join parts. */
export interface SplitChoice {
  /** `1/3 ` before each part. */
  readonly numbered: boolean;
}

interface Piece {
  /** What stands between this piece and the one before it when both share a part. */
  readonly joint: string;
  readonly text: string;
}

type Cut = (text: string) => readonly Piece[];

/**
 * The text in parts that fit one segment each, cut at line ends, else sentence ends, else spaces, else between
 * characters. Nothing but white space is lost, and the order stays. A text of one segment is one part,
 * never numbered; the empty text is no part.
 */
export function splitIntoSegments(text: string, choice: SplitChoice): readonly string[] {
  const whole = text.trim();
  if (whole === '') return [];
  if (fits(whole)) return [whole];
  if (!choice.numbered) return pack(whole, '');
  for (let digits = 1; ; digits += 1) {
    const parts = pack(whole, `${'9'.repeat(digits)}/${'9'.repeat(digits)} `);
    if (String(parts.length).length <= digits)
      return parts.map((part, index) => `${index + 1}/${parts.length} ${part}`);
  }
}

function fits(text: string): boolean {
  return countSegments(text).segments === 1;
}

/** Fills parts in order, each with room for a number as wide as `number`. */
function pack(text: string, number: string): readonly string[] {
  const parts: string[] = [];
  const add = (piece: Piece, cuts: readonly Cut[]): void => {
    const open = parts.at(-1);
    const joined = open === undefined ? piece.text : open + piece.joint + piece.text;
    if (open !== undefined && fits(number + joined)) {
      parts[parts.length - 1] = joined;
      return;
    }
    if (fits(number + piece.text)) {
      parts.push(piece.text);
      return;
    }
    const [cut, ...finer] = cuts;
    if (cut === undefined) {
      parts.push(piece.text);
      return;
    }
    cut(piece.text).forEach((smaller, index) => {
      add(index === 0 ? { joint: piece.joint, text: smaller.text } : smaller, finer);
    });
  };
  add({ joint: '', text }, [atLineEnds, atSentenceEnds, atSpaces, atCharacters]);
  return parts;
}

const atLineEnds: Cut = (text) => piecesOf(text.split(/\s*\n\s*/u), '\n');
const atSentenceEnds: Cut = (text) => piecesOf(text.split(/(?<=[.!?:;।።۔؟])\s+/u), ' ');
const atSpaces: Cut = (text) => piecesOf(text.split(/\s+/u), ' ');
const atCharacters: Cut = (text) => piecesOf([...text], '');

function piecesOf(texts: readonly string[], joint: string): readonly Piece[] {
  return texts.filter((text) => text !== '').map((text) => ({ joint, text }));
}
