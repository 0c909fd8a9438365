import { foldWord } from '../../text/fold.ts';

/** Part of the thyroid that holds a nodule, as in the findings. */
export type NoduleSide = 'right' | 'left' | 'isthmus';

/** Units that a diameter can be written in. */
export type SizeUnit = 'mm' | 'cm';

/** A piece of a reply with sizes. `part` is a sign that parts nodules or list items (`;` `,` `+` `&` or a new line). */
export type SizeToken =
  | { readonly kind: 'number'; readonly text: string }
  | { readonly kind: 'times' }
  | { readonly kind: 'dash' }
  | { readonly kind: 'part' }
  | { readonly kind: 'unit'; readonly unit: SizeUnit }
  | { readonly kind: 'side'; readonly side: NoduleSide };

const timesWords = ['x', 'х', '×', '✕', 'by'];

/**
 * Sizes, signs, units and sides of a tidied reply; null when something else stands in it. A comma is a decimal comma
 * between two digits (`2,2 x 1,5`), a listing sign before a space, and a listing sign where two of them join three whole
 * numbers (`22,15,14`; so do points, slashes and dashes). `22,15` alone is a decimal, with one decimal too many for mm.
 * A number never begins with its point: `.8` is not taken for 8.
 */
export function scanSizes(
  text: string,
  sides: Readonly<Record<string, NoduleSide>>,
  units: Readonly<Record<string, SizeUnit>>,
): readonly SizeToken[] | null {
  const listed = text
    // Three whole numbers of two or three digits joined by the same sign twice.
    .replace(/(?<![\d.,-])(\d{1,3})([.,/-])(\d{1,3})\2(\d{1,3})(?![\d.,-]*\d)/g, '$1 $3 $4')
    .replace(/(\d)\s*,\s+(?=\d)/g, '$1 ');
  const tokens: SizeToken[] = [];
  const pieces = listed.matchAll(
    /(\d+(?:[.,]\d+)?)|([\p{L}\p{M}]+)|([x×✕*])|([-‐‑‒–—−])|([;+&|]|,(?!\d))|([\s:=!]|\.(?!\d))|(.)/gsu,
  );
  for (const [, number, word, times, dash, part, , other] of pieces) {
    if (other !== undefined) return null;
    if (number !== undefined) tokens.push({ kind: 'number', text: number });
    else if (times !== undefined) tokens.push({ kind: 'times' });
    else if (dash !== undefined) tokens.push({ kind: 'dash' });
    else if (part !== undefined) tokens.push({ kind: 'part' });
    else if (word !== undefined) {
      const token = wordToken(foldWord(word), sides, units);
      if (!token) return null;
      tokens.push(token);
    }
  }
  return tokens;
}

function wordToken(
  word: string,
  sides: Readonly<Record<string, NoduleSide>>,
  units: Readonly<Record<string, SizeUnit>>,
): SizeToken | null {
  if (timesWords.includes(word)) return { kind: 'times' };
  if (word === 'mm' || word === 'cm') return { kind: 'unit', unit: word };
  if (Object.hasOwn(units, word)) return { kind: 'unit', unit: units[word]! };
  if (Object.hasOwn(sides, word)) return { kind: 'side', side: sides[word]! };
  return null;
}
