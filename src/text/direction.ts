/**
 * Texts that are read from right to left, as a phone draws them: the Unicode Bidirectional Algorithm (UAX #9) turns figures round
 * that stand behind Arabic letters and are parted by a space or a hyphen or have a sign before them, draws a figure behind Latin letters
 * beside those, and lays a text out from left to right that begins with a Latin letter.
 */

const mark = { rightToLeft: '\u200f', leftToRight: '\u200e' } as const;

const scripts = '\\p{Script=Arabic}\\p{Script=Hebrew}\\p{Script=Syriac}\\p{Script=Thaana}\\p{Script=Nko}';
const rightToLeftLetter = new RegExp(`[${scripts}]`, 'u');

/** Whether these words begin in a script that is written from right to left. */
export function isRightToLeft(words: string): boolean {
  const first = /\p{L}/u.exec(words)?.[0];
  return first !== undefined && rightToLeftLetter.test(first);
}

/** Whether letters of such a script stand in these words. */
export function hasRightToLeft(words: string): boolean {
  return rightToLeftLetter.test(words);
}

const figure = '\\d+(?:[./:x]\\d+)*';

/** Between two figures, in place of a space: there the algorithm keeps both as one figure, of any script and at no cost. */
const noBreak = '\u00a0';

/**
 * Digits in groups that a space parts: a number to dial, a question's number and its answer, answers in a row. Not a part of a
 * date, an hour, a size, a code or a tag, which stand for themselves.
 */
const groups =
  /(?<![\p{Script=Latin}\p{Nd}./:*\u00d7\u2013-])\p{Nd}+(?: \p{Nd}+)+(?!\p{Nd}|[./:x*\u00d7\u2013-]\p{Nd}|_)/gu;

/** One number with a sign before it, its groups too, or figures that a hyphen or a sign of multiplication parts. */
const turned = new RegExp(
  `(?<![\\d./:x])${mark.leftToRight}?([+]\\d+(?:[ \\u00a0-]\\d+)*|${figure}(?:[*\\u00d7\\u2013-]${figure})+)`,
  'gu',
);

/** The number of an answer between Latin letters or figures and its words. */
const answer = new RegExp(`(?<=[A-Za-z\\d][^\\p{L}\\d\\n]{0,3})${mark.rightToLeft}? (\\d{1,2}) (?=[${scripts}])`, 'gu');

/**
 * A text of a language that is written from right to left, with marks that show nothing, so that every phone draws its figures
 * in the order in which they are said and the number of an answer beside its words. Idempotent. Of a text without letters of
 * such a script all stays, of a line without them all but its digits in groups, which a phone set for such a script turns round.
 */
export function drawnRightToLeft(text: string): string {
  if (!hasRightToLeft(text)) return text;
  return text
    .replace(groups, (run) => run.replaceAll(' ', noBreak))
    .split('\n')
    .map((line) => {
      if (!hasRightToLeft(line)) return line;
      const marked = line
        .replace(turned, (_, run: string) => `${mark.leftToRight}${run}`)
        .replace(answer, (_, digits: string) => `${mark.rightToLeft} ${digits} `);
      const begins = marked.startsWith(mark.rightToLeft) || isRightToLeft(marked);
      return begins ? marked : `${mark.rightToLeft}${marked}`;
    })
    .join('\n');
}
