import { type Parsed, read, type ShownOption, unreadable } from './answer.ts';
import { longestReply, tidy } from './reply.ts';

/**
 * One digit a slide in the order of the slides: `1112` or `1 1 1 2`. Gives `slideCount` option ids. Another number of
 * digits is `wrong-count`, never filled up.
 */
export function readPerSlide(
  text: string,
  slideCount: number,
  options: readonly ShownOption[],
): Parsed<readonly string[]> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = tidy(text);
  if (plain === '') return unreadable('empty');
  const signs = [...plain.replace(/[\s,;/.-]+/gu, '')];
  const ids: string[] = [];
  for (const sign of signs) {
    const option = options.find((one) => one.reply.toLowerCase() === sign.toLowerCase());
    if (!option) return unreadable('not-an-option');
    ids.push(option.id);
  }
  return ids.length === slideCount ? read(ids) : unreadable('wrong-count');
}
