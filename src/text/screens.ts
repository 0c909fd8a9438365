/** One text of several screens: each is sent as a message of its own and complete alone. */
import { drawnRightToLeft } from './direction.ts';
import * as segments from './segments.ts';

/** Stands between two screens of one text: a control sign that no text shows and nobody's quoted words keep. */
export const screenBreak = '\u001e';

/** Counted as it is sent: with the marks for phones that a script from right to left gets. */
const fitsScreen = (text: string): boolean => segments.fitsScreen(drawnRightToLeft(text));

/** Stands behind the words with which a screen goes on in a next one where its values are longer than usual. */
export const goesOnSign = '\u001f';

/**
 * The screens of a text in their order. One without words is none: so a text can leave a screen out. A screen that says with
 * which words it goes on is cut between its lines, or its sentences if it has one line, where it fits no segment (a sentence
 * that fits none itself behind its commas). So is a screen about a patient whose `tag` is longer than most (the mark of
 * practice stands in it): it goes on with that tag.
 */
export function screensOf(text: string, tag: string | null = null): readonly string[] {
  const screens = text.split(screenBreak).map((one) => one.trim());
  return screens.filter((one) => one !== '').flatMap((one) => cutScreen(one, tag));
}

function cutScreen(screen: string, tag: string | null): readonly string[] {
  const at = screen.indexOf(goesOnSign);
  if (at < 0) return cutBehindTag(screen, tag);
  const lead = screen.slice(0, at).trim();
  const body = screen.slice(at + 1).trim();
  const isList = body.includes('\n');
  const fitsBehind = (part: string): boolean => fitsScreen(`${lead} ${part}`);
  const sentences = isList ? body.split('\n') : partsOf(body, sentenceEnd);
  // Around the words of a person nothing is parted: they and what is said of them stay on one screen.
  const isWhole = (part: string): boolean => isList || /["(]/u.test(part) || fitsBehind(part);
  const [first = '', ...others] = sentences.flatMap((one) => (isWhole(one) ? [one] : partsOf(one, comma)));
  const between = isList ? '\n' : ' ';
  const screens = [first];
  for (const part of others) {
    const longer = `${screens.at(-1)}${between}${part}`;
    if (fitsScreen(longer)) screens[screens.length - 1] = longer;
    else screens.push(lead === '' ? part : `${lead}${between}${part}`);
  }
  return screens.filter((one) => one !== '').map((one) => one.replace(/[;؛]$/u, '.'));
}

/** Signs of the tags for which the texts are written: initials, with the age where two patients share them; `Q1234 `. */
const usual = { tag: 5, question: 6 };

/** A screen that begins with a longer tag, or a longer question's number before it, and fits no segment. */
function cutBehindTag(screen: string, tag: string | null): readonly string[] {
  const at = tag === null ? -1 : screen.indexOf(tag);
  const isLed = at === 0 || (at > 0 && /^Q\d+ $/u.test(screen.slice(0, at)));
  const isUsual = tag === null || (tag.length <= usual.tag && at <= usual.question);
  if (!isLed || isUsual || screen.includes('\n') || fitsScreen(screen)) return [screen];
  const lead = `${screen.slice(0, at + tag.length)}:`;
  if (partsOf(screen, sentenceEnd).length > 1) return cutScreen(`${lead}${goesOnSign}${screen}`, null);
  const [name = '', ...rest] = screen.split(/(?<=:) (?=\d)/u);
  return rest.length === 0 ? [screen] : [name, `${lead} ${rest.join(' ')}`];
}

const sentenceEnd = /[.;?!؟؛]/u;
/** Where a sentence longer than a screen is parted. */
const comma = /[,،]/u;

/** Cut after each such sign that a space follows; never between marks or in brackets, where the words of a person stand. */
function partsOf(text: string, sign: RegExp): readonly string[] {
  const parts: string[] = [];
  let from = 0;
  let isQuoted = false;
  let depth = 0;
  for (let index = 0; index < text.length; index += 1) {
    const here = text[index]!;
    if (here === '"') isQuoted = !isQuoted;
    if (here === '(') depth += 1;
    if (here === ')') depth = Math.max(0, depth - 1);
    const isEnd = sign.test(here) && !isQuoted && depth === 0;
    if (!isEnd || text[index + 1] !== ' ') continue;
    parts.push(text.slice(from, index + 1).trim());
    from = index + 2;
  }
  return [...parts, text.slice(from).trim()];
}

/**
 * Items in their order on as few screens as they need, each of one segment where its items allow, as one text. `head` begins
 * the first screen, `next` the others, `end` stands last of all. An item is parted, behind a comma, only where it is longer
 * than a screen.
 */
export function packedScreens(head: string, next: string, items: readonly string[], end: string): string {
  const screens: string[] = [head];
  const fitsNext = (one: string): boolean => fitsScreen(`${next} ${one}`);
  for (const item of [...items, end].flatMap((one) => (fitsNext(one) ? [one] : partsOf(one, comma)))) {
    const longer = `${screens.at(-1)} ${item}`;
    if (fitsScreen(longer)) screens[screens.length - 1] = longer;
    else screens.push(`${next} ${item}`);
  }
  return screens.join(screenBreak);
}

/** Sentences behind `head` on as few screens as they need, each screen but the first begun with `next`. '' where there are no words. */
export function partedScreens(head: string, next: string, words: string): string {
  if (words === '') return '';
  const items = words.split(/(?<=[.;?!؟؛]) /u);
  return packedScreens(head, next, items.slice(0, -1), items.at(-1)!);
}
