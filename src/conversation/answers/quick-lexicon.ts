import { namesSex } from './patient.ts';
import { noduleFields, type QuickMeaning, type QuickVocabulary } from './quick-vocabulary.ts';
import { isSize, type QuickWord } from './quick-words.ts';
import type { NoduleSide } from './size-tokens.ts';

/** A phrase of the vocabulary by what it does. */
export type Phrase =
  | { readonly kind: 'means'; readonly meanings: readonly QuickMeaning[] }
  | { readonly kind: 'list'; readonly field: string }
  | { readonly kind: 'number'; readonly field: string };

const mostWords = 6;

/** The words of one quick text looked up in a vocabulary. Places beyond the last word are empty words. */
export class QuickLexicon {
  readonly words: readonly QuickWord[];
  readonly vocabulary: QuickVocabulary;
  private readonly phrases: ReadonlyMap<string, Phrase>;
  private readonly reserved: ReadonlySet<string>;
  private readonly measured: ReadonlySet<string>;

  constructor(words: readonly QuickWord[], vocabulary: QuickVocabulary) {
    this.words = words;
    this.vocabulary = vocabulary;
    this.phrases = phrasesOf(vocabulary);
    this.reserved = new Set([...this.phrases.keys()].flatMap((phrase) => phrase.split(' ')));
    const elsewhere = [...this.phrases].filter(([, phrase]) => !ofNodule(phrase)).map(([words]) => words);
    this.measured = new Set(
      [...elsewhere, ...Object.keys(vocabulary.numbersBefore)].flatMap((words) => words.split(' ')),
    );
  }

  /**
   * How many unread words may each have been a nodule's size or side: then it is not known which nodule the words around
   * belong to. A lone number behind a word of another matter (`TSH 2.1`) is none.
   */
  possibleNodules(unread: readonly number[]): number {
    const places = new Set(unread);
    const isNumber = (at: number): boolean => places.has(at) && numberOf(this.key(at)) !== null;
    return unread.filter((at) => {
      if (this.sideAt(at) !== null) return true;
      if (isNumber(at)) return !isNumber(at - 1) && (isNumber(at + 1) || !this.measured.has(this.key(at - 1)));
      return /\d\D+\d/u.test(this.key(at));
    }).length;
  }

  /** Whether the word at this place voids the phrase before it: `nodes 0`, `nodes ok`; `hypo no micro` denies what follows. */
  deniedBehind(at: number): boolean {
    const key = this.key(at);
    if (this.phraseAt(at)) return false;
    if (this.vocabulary.denials.includes(key)) return true;
    if (!this.vocabulary.none.includes(key)) return false;
    return !this.vocabulary.doubts.includes(key) || this.phraseAt(at + 1) === null;
  }

  /** How many words from `at` are sizes behind a side: one that can only be a size, or one or three short numbers. */
  sizeWordsFrom(at: number): number {
    const word = this.words[at];
    if (!word) return 0;
    if (isSize(word.raw, this.vocabulary.units)) return 1;
    if (this.isSex(at - 1)) return 0;
    let count = 0;
    while (
      /^\d{1,3}$/.test(this.key(at + count)) &&
      !Object.hasOwn(this.vocabulary.numbersBefore, this.key(at + count + 1))
    ) {
      count += 1;
    }
    return count;
  }

  /** Whether something that is surely read begins at this word: it ends a list before it. */
  takenForSure(at: number): boolean {
    if (isSize(this.words[at]!.raw, this.vocabulary.units)) return true;
    if (this.sideAt(at) !== null && this.sizeWordsFrom(at + 1) > 0) return true;
    const phrase = this.phraseAt(at);
    if (phrase === null || this.doubtful(range(at, phrase.length))) return false;
    // `signs hoarse risks 0`: a list that says none is one all the same.
    return phrase.phrase.kind === 'list' || !this.deniedBehind(at + phrase.length);
  }

  /** Whether the word could be part of the patient's line. */
  mayBePatient(at: number): boolean {
    const key = this.key(at);
    const { pregnant, years, weeks } = this.vocabulary.patient;
    if (/^(\d{1,4})$/.test(key) || this.isSex(at) || pregnant.includes(key)) return true;
    if (years.includes(key) || weeks.includes(key)) return true;
    // `P20`, `43y`, `AK1982F`
    if (/^(?=.*\d)[\p{L}\d]{2,12}$/u.test(key)) return true;
    return this.isName(at);
  }

  /** Whether the word could be initials: one to four letters that mean nothing else. */
  isName(at: number): boolean {
    const key = this.key(at);
    const { pregnant, years, weeks } = this.vocabulary.patient;
    if (this.isSex(at) || pregnant.includes(key) || years.includes(key) || weeks.includes(key)) return false;
    if (this.sideAt(at) !== null || this.reserved.has(key)) return false;
    return /^(?:\p{L}\p{M}*\.?){1,4}$/u.test(key);
  }

  /** The longest phrase that begins at this word. */
  phraseAt(at: number): { readonly phrase: Phrase; readonly length: number } | null {
    const ended = this.words.slice(at, at + mostWords).findIndex((one) => one.ends);
    const most = ended < 0 ? mostWords : ended + 1;
    for (let length = Math.min(most, this.words.length - at); length >= 1; length -= 1) {
      const phrase = this.phrases.get(
        range(at, length)
          .map((index) => this.key(index))
          .join(' '),
      );
      if (phrase) return { phrase, length };
    }
    return null;
  }

  /** The word as it is compared. */
  key(at: number): string {
    return this.words[at]?.key ?? '';
  }

  /** The side that the word names. */
  sideAt(at: number): NoduleSide | null {
    const { sides } = this.vocabulary;
    return Object.hasOwn(sides, this.key(at)) ? sides[this.key(at)]! : null;
  }

  /** Whether the word says a sex, be it not which. */
  isSex(at: number): boolean {
    return namesSex(this.vocabulary.patient, this.key(at));
  }

  /** Whether a question mark stands behind one of the words. */
  doubtful(places: readonly number[]): boolean {
    return places.some((index) => this.words[index]?.doubtful === true);
  }
}

function ofNodule(phrase: Phrase): boolean {
  return phrase.kind === 'means'
    ? phrase.meanings.some((meaning) => noduleFields.has(meaning.field))
    : noduleFields.has(phrase.field);
}

function phrasesOf(vocabulary: QuickVocabulary): ReadonlyMap<string, Phrase> {
  const phrases = new Map<string, Phrase>();
  for (const [phrase, meanings] of Object.entries(vocabulary.words)) phrases.set(phrase, { kind: 'means', meanings });
  for (const [phrase, field] of Object.entries(vocabulary.lists)) phrases.set(phrase, { kind: 'list', field });
  for (const [phrase, field] of Object.entries(vocabulary.numbersBehind))
    phrases.set(phrase, { kind: 'number', field });
  return phrases;
}

/** A number with at most two decimals, comma or point; null for anything else. */
export function numberOf(text: string): number | null {
  return /^\d{1,6}(?:[.,]\d{1,2})?$/.test(text) ? Number(text.replace(',', '.')) : null;
}

/** `length` places from `from`. */
export function range(from: number, length: number): number[] {
  return Array.from({ length }, (_, index) => from + index);
}
