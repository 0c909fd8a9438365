/** One text of several screens: each is sent as a message of its own and complete alone. */
import { countSegments } from './segments.ts';

/** Stands between two screens of one text: a control sign that no text shows and nobody's quoted words keep. */
export const screenBreak = '\u001e';

/** The screens of a text in their order. One without words is none: so a text can leave a screen out. */
export function screensOf(text: string): readonly string[] {
  if (!text.includes(screenBreak)) return text === '' ? [] : [text];
  return text
    .split(screenBreak)
    .map((one) => one.trim())
    .filter((one) => one !== '');
}

/**
 * Items in their order on as few screens as they need, each of one segment where its items allow, as one text. `head` begins
 * the first screen, `next` the others, `end` stands last of all.
 */
export function packedScreens(head: string, next: string, items: readonly string[], end: string): string {
  const screens: string[] = [head];
  for (const item of [...items, end]) {
    const longer = `${screens.at(-1)} ${item}`;
    if (countSegments(longer).segments === 1) screens[screens.length - 1] = longer;
    else screens.push(`${next} ${item}`);
  }
  return screens.join(screenBreak);
}

/**
 * Sentences behind `head` on as few screens as they need, each screen but the first begun with `next`. A sentence is parted,
 * behind a comma, only where it is longer than a screen. '' where there are no words.
 */
export function partedScreens(head: string, next: string, words: string): string {
  if (words === '') return '';
  const fits = (one: string): boolean => countSegments(`${next} ${one}`).segments === 1;
  const items = words.split(/(?<=[.;?!]) /u).flatMap((one) => (fits(one) ? [one] : one.split(/(?<=,) /u)));
  return packedScreens(head, next, items.slice(0, -1), items.at(-1)!);
}
