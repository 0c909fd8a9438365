/** The word SOS, however frightened people spell it, in every language alike. */
import { foldWord } from '../../text/fold.ts';

/** The letters in a row, some of them doubled or the word twice: `SOS`, `SOSS`, `SSOS`, `sossos`. Digits beside it do not hide it. */
const together = /(?<!\p{L})s+(?:o+s+)+(?!\p{L})/u;

/** One letter as the digit that looks like it: `5OS`, `S0S`, `SO5`. A number of an answer or a code has none of the letters. */
const withDigit = /(?<![\p{L}\p{N}])(?:5os+|s+0+s+|s+o5)(?![\p{L}\p{N}])/u;

/** The letters apart: `S O S`, `s.o.s`, `s-o-s`, `SO S`. Not before a stroke or an apostrophe: `so s/he`. */
const apart = /(?<![\p{L}\p{N}'’])s[\s.\-_*…]{0,3}o[\s.\-_*…]{0,3}s(?![\p{L}\p{N}/'’])/u;

/** The sign for it on phones that have one. */
const sign = '\u{1f198}';

/** True: the text says SOS, anywhere in it. Not inside another word (`isosceles`), and no slip of a usual one (`so`, `SAS`). */
export function saysSos(text: string): boolean {
  const folded = foldWord(text);
  return together.test(folded) || withDigit.test(folded) || apart.test(folded) || folded.includes(sign);
}
