/** Finds the claims of a text by the words of the language's files. */
import { type TextKey, textKeys } from '../../../src/generated/text-keys.ts';
import { foldToGsm7 } from '../../../src/text/gsm7.ts';
import { screensOf } from '../../../src/text/screens.ts';
import { shipped } from '../shipped.ts';

/** Marks that no text of a language holds. */
const slot = /⟦([^⟧]*)⟧/u;

const screensOfKey = (key: TextKey): readonly string[] =>
  screensOf(shipped.texts.render('en', key, (name) => `⟦${name}⟧`));

/** How many texts have this screen. */
const shared = new Map<string, number>();
for (const [file, keys] of Object.entries(textKeys))
  for (const key of keys)
    for (const screen of new Set(screensOfKey(`${file}.${key}` as TextKey)))
      shared.set(screen, (shared.get(screen) ?? 0) + 1);

/** Patterns of the screens of one text; a placeholder is whatever stands there. `whole`: the text fills its lines. */
function patternsOf(key: TextKey, whole: boolean): readonly RegExp[] {
  // A screen of values alone says nothing by itself.
  const telling = screensOfKey(key).filter((screen) =>
    screen.split(slot).some((part, index) => index % 2 === 0 && part.length > 6),
  );
  // Nor does one that other texts have too tell which of them it is.
  const own = telling.filter((screen) => shared.get(screen) === 1);
  const screens = own.length > 0 ? own : telling;
  return screens.map((screen) => {
    const seen = new Set<string>();
    const body = screen
      .split(slot)
      .map((part, index) => {
        if (index % 2 === 0) return foldToGsm7(part).replace(/[.*+?^${}()|[\]\\]/gu, '\\$&');
        const name = part.replace(/[^A-Za-z0-9]/gu, '_');
        if (seen.has(name)) return '[^\\n]*?';
        seen.add(name);
        return `(?<${name}>[^\\n]*?)`;
      })
      .join('');
    return new RegExp(whole ? `(?:^|\\n)${body}(?=\\n|$)` : body, 'u');
  });
}

const known = new Map<TextKey, readonly RegExp[]>();

/** What stands at the placeholders where the text says this; null where it does not. */
export function saidIn(text: string, key: TextKey): Readonly<Record<string, string>> | null {
  const patterns = known.get(key) ?? patternsOf(key, true);
  known.set(key, patterns);
  for (const pattern of patterns) {
    const found = pattern.exec(text);
    if (found) return { ...found.groups };
  }
  return null;
}

/** True: the text holds this one somewhere, as a sentence among others. */
export function holdsText(text: string, key: TextKey): boolean {
  return patternsOf(key, false).some((pattern) => pattern.test(text));
}
