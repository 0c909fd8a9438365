/**
 * How a phone or a browser draws a text that is written from right to left: bidi-js, a general implementation of the Unicode
 * Bidirectional Algorithm (UAX #9), says in which order the signs stand on the screen.
 */
import bidiFactory, { type Bidi } from 'bidi-js';

/** Its types describe another form of the module. */
const bidi = (bidiFactory as unknown as () => Bidi)();

/** What stands on the screen from left to right, without the marks that show nothing. `base`: a direction that is forced. */
export function drawn(text: string, base?: 'rtl' | 'ltr'): string {
  const lines = text.split('\n').map((line) => bidi.getReorderedString(line, bidi.getEmbeddingLevels(line, base)));
  return lines.join('\n').replace(/[\u200e\u200f]/gu, '');
}
