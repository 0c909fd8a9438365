/**
 * Texts that are read from right to left, as a phone draws them: the Unicode Bidirectional Algorithm (UAX #9) turns groups of
 * figures round that stand behind Arabic letters, and lays a text out from left to right that begins with a Latin letter.
 */

const mark = { rightToLeft: '\u200f', leftToRight: '\u200e' } as const;

const rightToLeftLetter = /[\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;

/** Whether these words begin in a script that is written from right to left. */
export function isRightToLeft(words: string): boolean {
  const first = /\p{L}/u.exec(words)?.[0];
  return first !== undefined && rightToLeftLetter.test(first);
}

/** A code in its groups. */
const code = /(?<!\d)(\d{4}) (\d{4})(?: (\d{2}))?(?!\d)/gu;

/** Figures that belong together and are parted by what turns them round, or have a sign before them. */
const figures =
  /(?<![\d.])\u200e?([+-]\d[\d.]*(?:[ \u00a0*\u00d7\u2013-]+\d[\d.]*)*|\d[\d.]*(?:[ \u00a0*\u00d7\u2013-]+\d[\d.]*)+)/gu;

/**
 * A text of a language that is written from right to left, so that every phone draws its figures in the order in which they are
 * said: codes are parted by a point (drawn rightly by phones that force a direction, too), a mark that shows nothing stands
 * before other groups of figures, and one before a line that begins with a Latin letter. Idempotent. A line without such
 * letters stays.
 */
export function drawnRightToLeft(text: string): string {
  return text
    .split('\n')
    .map((line) => {
      const parted = line.replace(code, (_, ...groups: (string | undefined)[]) =>
        groups
          .slice(0, 3)
          .filter((one) => one !== undefined)
          .join('.'),
      );
      if (!rightToLeftLetter.test(line)) return parted;
      const marked = parted.replace(figures, (_, run: string) => `${mark.leftToRight}${run}`);
      const begins = marked.startsWith(mark.rightToLeft) || isRightToLeft(marked);
      return begins ? marked : `${mark.rightToLeft}${marked}`;
    })
    .join('\n');
}
