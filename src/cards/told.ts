/** What the cards are made from: their own texts, the line's texts, and what the programme knows. */
import type { Texts } from '../conversation/texts.ts';

/** What is known of the place where the cards hang; null: to be written in by hand. */
export interface Place {
  readonly clinic: string | null;
  readonly hospital: string | null;
  readonly night: string | null;
  /** A person to talk to, outside the line. */
  readonly voice: string | null;
  /** What phones write to. */
  readonly line: string | null;
  readonly laboratory: { readonly name: string; readonly address: string } | null;
}

export interface Told {
  readonly locale: string;
  readonly texts: Texts;
  /** A text of the cards in this language and voice, clinical numbers and `values` put in. */
  say(key: string, values?: Readonly<Record<string, string>>): string;
  /** Every word that the line always takes, as the code names it, with what people of this language write for it. */
  readonly words: ReadonlyMap<string, readonly string[]>;
  readonly place: Place;
}

/** A word as people of this language write it. */
export function shownWord({ texts, locale }: Told, keyword: string): string {
  return texts.keywordShown(locale, keyword);
}

/** A word of an open alarm as people write it. */
export function alarmWord({ texts, locale }: Told, answer: 'same' | 'worse' | 'going' | 'well' | 'cannot'): string {
  return (texts.alarmWords(locale)[0]?.answers[answer][0] ?? answer).toUpperCase();
}
