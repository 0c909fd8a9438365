import { foldWord } from '../../text/fold.ts';
import { bare, tidy } from './reply.ts';
import type { NoduleSide, SizeUnit } from './size-tokens.ts';

/** A word of a quick text: as typed, as compared, and what stands behind it. */
export interface QuickWord {
  readonly raw: string;
  readonly key: string;
  readonly doubtful: boolean;
  /** A comma or semicolon stands behind it: no phrase goes on across it. */
  readonly ends: boolean;
}

const number = '\\d+(?:[.,]\\d+)?';

/**
 * The words of a quick text. Sizes written with spaces around their signs become one word (`22 x 15 x 14 mm` to
 * `22x15x14mm`), a side glued to its size becomes a word of its own.
 */
export function quickWords(
  text: string,
  sides: Readonly<Record<string, NoduleSide>>,
  units: Readonly<Record<string, SizeUnit>>,
): readonly QuickWord[] {
  const unit = `(?:${['mm', 'cm', ...Object.keys(units)].join('|')})`;
  const glued = tidy(text)
    .replace(new RegExp(`(?<=\\d)\\s*(${unit})(?!\\p{L})`, 'giu'), '$1')
    .replace(new RegExp(`(?<=\\d|\\d${unit})\\s*[xх×✕*]\\s*(?=\\d)`, 'giu'), 'x')
    .replace(/(?<=\d)\s*,\s+(?=\d)/g, ' ')
    .replace(/\s+\?/g, '?');
  const words: QuickWord[] = [];
  const between = /([\s;+&|]+|,(?!\d)|(?<!\d),|(?<!\d)\/|\/(?!\d)|(?<=\p{L})[:=])/u;
  const pieces = glued.split(between);
  for (let at = 0; at < pieces.length; at += 2) {
    const piece = pieces[at]!;
    const last = words.at(-1);
    if (last && /[,;]/.test(pieces[at - 1] ?? '')) words[words.length - 1] = { ...last, ends: true };
    const led = /^(\p{L}+)[-:=]?(\d.*)$/u.exec(piece);
    const isLed = led !== null && Object.hasOwn(sides, foldWord(led[1]!)) && isSize(led[2]!, units);
    for (const part of isLed ? [led[1]!, led[2]!] : [piece]) {
      const raw = bare(part);
      if (raw !== '') words.push({ raw, key: foldWord(raw), doubtful: part.includes('?'), ends: false });
    }
  }
  return words;
}

/** A word that can only be a size: several diameters, a range, or a unit behind it. */
export function isSize(word: string, units: Readonly<Record<string, SizeUnit>>): boolean {
  const unit = `(?:${['mm', 'cm', ...Object.keys(units)].join('|')})`;
  const one = `${number}(?:${unit})?`;
  return new RegExp(`^${one}(?:x${one})+$|^${number}-${one}$|^${number}${unit}$`, 'iu').test(word);
}
