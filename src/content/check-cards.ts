/**
 * The printed cards are held against the rules of texts: the values, numbers and sentences of English, and nothing dropped that no
 * translation may drop. First aid hangs on the wall in these words.
 */
import type { CardTexts } from './cards-file.ts';
import { dropped } from './check-cautions.ts';
import { checkSentences } from './check-sentences.ts';
import { compareTexts } from './check-texts.ts';
import type { Problem } from './problem.ts';
import type { Locale } from './texts.ts';

/** Cards of one language beside the language itself, whose lists of words they are held against. */
export interface CardsOfLocale {
  readonly locale: Locale;
  readonly cards: CardTexts;
}

/** Where the cards of a language do not say what those of English say. A text that one of them lacks is no matter of this. */
export function checkCardTexts(english: CardsOfLocale, own: CardsOfLocale): readonly Problem[] {
  const both = [...own.cards.texts.keys()].filter((key) => english.cards.texts.has(key));
  const [base, locale] = [english, own].map((one) => asLocale(one, both)) as [Locale, Locale];
  return [...compareTexts(base, locale), ...checkSentences([base, locale]), ...dropped(base, locale)].map((one) => ({
    ...one,
    path: keyOf(one.path),
  }));
}

/** The cards as the only file of their language. A brief text hangs there alone, so that it is held against English by itself. */
function asLocale({ locale, cards }: CardsOfLocale, keys: readonly string[]): Locale {
  const { file } = cards;
  return {
    ...locale,
    files: [
      {
        ...{ file, locale: locale.tag, name: 'cards', options: {}, long: {} },
        texts: new Map(keys.map((key) => [key.replace(briefKey, alone), cards.texts.get(key)!])),
        lineOf: ([key, ...path]) => cards.lineOf([keyOf(String(key)), ...path]),
      },
    ],
  };
}

const briefKey = /_brief$/u;
const alone = '-in-brief';

function keyOf(path: string): string {
  return path.endsWith(alone) ? `${path.slice(0, -alone.length)}_brief` : path;
}
