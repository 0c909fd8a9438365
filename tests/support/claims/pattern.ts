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

/** Screens of a text; one of values alone says nothing by itself. */
const tellingScreens = (key: TextKey): readonly string[] =>
  screensOfKey(key).filter((screen) => screen.split(slot).some((part, index) => index % 2 === 0 && part.length > 6));

/** Those that no other text has too, where there are such: they tell which text it is. */
function ownScreens(key: TextKey): readonly string[] {
  const own = tellingScreens(key).filter((screen) => shared.get(screen) === 1);
  return own.length > 0 ? own : tellingScreens(key);
}

interface Pattern {
  readonly form: RegExp;
  /** The longest words of it that stand in every such text: looked for first, since most texts are of other keys. */
  readonly words: string;
}

/** Patterns of screens; a placeholder is whatever stands there. `whole`: the text fills its lines. */
function patternsOf(screens: readonly string[], whole: boolean): readonly Pattern[] {
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
    const literals = screen.split(slot).filter((_, index) => index % 2 === 0);
    const words = foldToGsm7(literals.reduce((longest, one) => (one.length > longest.length ? one : longest), ''));
    return { form: new RegExp(whole ? `(?:^|\\n)${body}(?=\\n|$)` : body, 'u'), words };
  });
}

const known = new Map<TextKey, readonly Pattern[]>();
const knownOwn = new Map<TextKey, readonly Pattern[]>();

function found(text: string, patterns: readonly Pattern[]): Readonly<Record<string, string>> | null {
  for (const { form, words } of patterns) {
    const match = text.includes(words) ? form.exec(text) : null;
    if (match) return { ...match.groups };
  }
  return null;
}

/** What stands at the placeholders where the text says this; null where it does not. */
export function saidIn(text: string, key: TextKey): Readonly<Record<string, string>> | null {
  const patterns = known.get(key) ?? patternsOf(tellingScreens(key), true);
  known.set(key, patterns);
  return found(text, patterns);
}

/** The same, by what no other text says. */
export function saidAloneIn(text: string, key: TextKey): Readonly<Record<string, string>> | null {
  const patterns = knownOwn.get(key) ?? patternsOf(ownScreens(key), true);
  knownOwn.set(key, patterns);
  return found(text, patterns);
}

/** True: the text holds this one somewhere, as a sentence among others. */
export function holdsText(text: string, key: TextKey): boolean {
  return patternsOf(tellingScreens(key), false).some(({ form }) => form.test(text));
}
