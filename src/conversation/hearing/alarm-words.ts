/** What people write in danger and what only looks like it, in one language: `locales/<tag>/alarm.json`. */

/** Answers that belong to an open alarm alone. */
export const alarmAnswers = ['same', 'worse', 'going', 'well', 'cannot', 'gone', 'fine'] as const;
export type AlarmAnswer = (typeof alarmAnswers)[number];

/** Those that end an alarm or hand it over: they carry four digits that the line sent (`GOING 4718`). */
export const provenAnswers: ReadonlySet<AlarmAnswer> = new Set<AlarmAnswer>(['going', 'well']);

/** All words in the form in which they are compared (`foldWord`); a phrase is words with one space between. `#` stands for a number; in lists that are searched for `he/she faints` is two phrases. */
export interface AlarmWords {
  /** False: its words are heard as they stand here, not with a slip of a letter: the reader's own language is another one. */
  readonly slips?: false;
  /** One letter alone, while an alarm is open. */
  readonly letters: { readonly sos: readonly string[]; readonly worse: readonly string[] };
  readonly answers: Readonly<Record<AlarmAnswer, readonly string[]>>;
  /** Suffocation, choking, swelling, collapse, a fit: the alarm at once. */
  readonly now: readonly string[];
  /** Everything else that sounds like danger: first aid at once, the alarm when nothing is answered. */
  readonly soon: readonly string[];
  /** The same when the text holds nothing else: words that mean other things inside a sentence. */
  readonly alone: { readonly now: readonly string[]; readonly soon: readonly string[] };
  /** May stand between the words of a phrase, and around a word that stands alone. */
  readonly fillers: readonly string[];
  /** Deny what follows, over several words and `and`: `no swelling and bleeding`. */
  readonly no: readonly string[];
  /** Deny the next words only: `not awake and swelling` is a cry. */
  readonly not: readonly string[];
  /** A cry that holds one of these says it whole: `cannot breathe` is not denied by a `no` before it. */
  readonly firm: readonly string[];
  /** End the reach of a `not` and not that of a `no`. */
  readonly joins: readonly string[];
  /** End the reach of both: another thing begins. */
  readonly turns: readonly string[];
  /** Behind a cry: it is over or was none. */
  readonly over: readonly string[];
  /** Before a cry: it is asked about, feared or watched for. */
  readonly asked: readonly string[];
  /** Beside a cry: long ago. */
  readonly past: readonly string[];
  /** Beside both: it is now all the same. */
  readonly present: readonly string[];
  /** Beside a cry: not the patient. */
  readonly others: readonly string[];
  /** Phrases that hold a cry and are none. */
  readonly lures: readonly string[];
  /** Usual words that are one slip away from a cry. */
  readonly usual: readonly string[];
}

/** Every list of phrases in a language's file, by name: for checking their form. */
export function alarmLists(words: AlarmWords): ReadonlyMap<string, readonly string[]> {
  const { letters, answers, alone, slips: _, ...lists } = words;
  return new Map([
    ...Object.entries(lists),
    ...Object.entries(letters).map(([name, list]) => [`letters.${name}`, list] as const),
    ...Object.entries(answers).map(([name, list]) => [`answers.${name}`, list] as const),
    ...Object.entries(alone).map(([name, list]) => [`alone.${name}`, list] as const),
  ]);
}
