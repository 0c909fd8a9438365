/** Finds the claims of a text by the words of the language's files. */
import type { TextKey } from '../../../src/generated/text-keys.ts';
import { foldToGsm7 } from '../../../src/text/gsm7.ts';
import { screensOf } from '../../../src/text/screens.ts';
import { shipped } from '../shipped.ts';

/** Marks that no text of a language holds. */
const slot = /⟦([^⟧]*)⟧/u;

/** Patterns of the screens of one text; a placeholder is whatever stands there. `whole`: the text fills its lines. */
function patternsOf(key: TextKey, whole: boolean): readonly RegExp[] {
  const text = shipped.texts.render('en', key, (name) => `⟦${name}⟧`);
  // A screen of values alone says nothing by itself.
  const screens = screensOf(text).filter((screen) =>
    screen.split(slot).some((part, index) => index % 2 === 0 && part.length > 6),
  );
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
