/** Finds the phrases of one list in the words of a text, with a slip of a letter and small words between. */
import { isOneSlip, shortened } from '../../text/slip.ts';

/** Where a phrase stands: words from `from` up to, not including, `to`. */
export interface Found<Tag> {
  readonly from: number;
  readonly to: number;
  readonly words: readonly string[];
  /** Words of it that were read with a slip. */
  readonly slips: number;
  readonly tag: Tag;
}

/** Small words that may stand between two words of a phrase. */
const mostBetween = 2;
/** Letters of a word in which a slip is read as one; shorter words slip into other words too easily. */
const leastLetters = 5;
/** Letters of a whole phrase from which its short words may slip too: one of four letters, one of three. */
const longPhrase = 6;
const longerPhrase = 8;
/** Letters of a whole phrase from which two of its words may slip. */
const veryLongPhrase = 14;
/** Words whose meanings are remembered. */
const wordsKept = 1_000;

interface Phrase<Tag> {
  /** The words that may stand at each place. */
  readonly places: readonly (readonly string[])[];
  readonly tag: Tag;
}

/** A word of the text and what it was taken for. */
interface Taken {
  readonly word: string;
  readonly meant: string;
}

export interface PhraseOptions {
  readonly fillers: ReadonlySet<string>;
  /** Words that are what they are, never a slip of another. */
  readonly usual: ReadonlySet<string>;
  /** Read slips at all. */
  readonly slips: boolean;
}

/** Phrases made ready for searching. `#` stands for any number, `he/she faints` for two phrases. */
export class Phrases<Tag> {
  private readonly byFirst = new Map<string, Phrase<Tag>[]>();
  /** Words of all phrases by each of their shortened forms. */
  private readonly near = new Map<string, Set<string>>();
  /** Words that are what they are: those of the phrases themselves too. */
  private readonly known: ReadonlySet<string>;
  private readonly options: PhraseOptions;
  /** What words were taken to be, those of today's texts: they come again and again. */
  private readonly meant = new Map<string, readonly string[]>();

  constructor(lists: readonly (readonly [Tag, readonly string[]])[], options: PhraseOptions) {
    this.options = options;
    const known = [...options.usual, ...options.fillers];
    for (const [tag, list] of lists) {
      for (const text of list) {
        const places = placesOf(text);
        for (const first of places[0]!) this.byFirst.set(first, [...(this.byFirst.get(first) ?? []), { places, tag }]);
        known.push(...places.flat());
        for (const word of options.slips ? places.flat() : []) {
          for (const form of shortened(word)) this.near.set(form, (this.near.get(form) ?? new Set<string>()).add(word));
        }
      }
    }
    this.known = new Set(known);
  }

  /** Every phrase that stands in these words. */
  in(words: readonly string[]): readonly Found<Tag>[] {
    const found: Found<Tag>[] = [];
    for (const [at, word] of words.entries()) {
      for (const first of this.meanings(word)) {
        for (const phrase of this.byFirst.get(first) ?? []) {
          const end = this.ends(phrase, words, at);
          if (end) found.push({ from: at, ...end, tag: phrase.tag });
        }
      }
    }
    return found;
  }

  /** Words of the phrases that this word could be. */
  private meanings(word: string): readonly string[] {
    const known = this.meant.get(word);
    if (known) return known;
    const found = this.meaningsOf(word);
    if (this.meant.size >= wordsKept) this.meant.delete(this.meant.keys().next().value as string);
    this.meant.set(word, found);
    return found;
  }

  private meaningsOf(word: string): readonly string[] {
    const number = isNumber(word) ? ['#'] : [];
    if (!this.options.slips || this.known.has(word)) return [word, ...number];
    const forms = word.length > 24 ? [] : shortened(word).flatMap((form) => [...(this.near.get(form) ?? [])]);
    return [...new Set([word, ...number, ...forms.filter((one) => isOneSlip(word, one))])];
  }

  /** Where the places that are left end, with what was taken so far. A small word may be one of a place or stand between two. */
  private ends(
    phrase: Phrase<Tag>,
    words: readonly string[],
    at: number,
    taken: readonly Taken[] = [],
  ): Omit<Found<Tag>, 'from' | 'tag'> | null {
    const place = phrase.places[taken.length];
    if (!place) return readAs(at, taken);
    const most = taken.length === 0 ? 0 : mostBetween;
    for (let between = 0; between <= most; between += 1) {
      const word = words[at + between];
      if (word === undefined) return null;
      const meant = this.meantAt(place, word);
      const end = meant === undefined ? null : this.ends(phrase, words, at + between + 1, [...taken, { word, meant }]);
      if (end) return end;
      if (!this.options.fillers.has(word)) return null;
    }
    return null;
  }

  /** The word of this place that stands here: as it is, a number, or with a slip of a letter. */
  private meantAt(place: readonly string[], word: string): string | undefined {
    if (place.includes(word)) return word;
    const meanings = this.meanings(word);
    return meanings.length < 2 ? undefined : place.find((one) => meanings.includes(one));
  }
}

/** `he/she faints`: the words of each place. */
function placesOf(phrase: string): readonly (readonly string[])[] {
  return phrase.split(' ').map((place) => place.split('/'));
}

/** A long phrase is known with more slips, and with slips in shorter words. */
function readAs(to: number, taken: readonly Taken[]): Omit<Found<unknown>, 'from' | 'tag'> | null {
  const words = taken.map(({ meant }) => meant);
  const slipped = taken.filter(({ word, meant }) => meant !== word && meant !== '#');
  const letters = words.join('').length;
  const least = letters >= longerPhrase ? 3 : letters >= longPhrase ? 4 : leastLetters;
  const isKnown =
    slipped.length <= (letters >= veryLongPhrase ? 2 : 1) && slipped.every(({ meant }) => meant.length >= least);
  return isKnown ? { to, words, slips: slipped.length } : null;
}

function isNumber(word: string): boolean {
  return /^\d+$/.test(word);
}
