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
  readonly words: readonly string[];
  readonly letters: number;
  readonly tag: Tag;
}

export interface PhraseOptions {
  readonly fillers: ReadonlySet<string>;
  /** Words that are what they are, never a slip of another. */
  readonly usual: ReadonlySet<string>;
  /** Read slips at all. */
  readonly slips: boolean;
}

/** Phrases made ready for searching. `#` in a phrase stands for any number. */
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
    const own = lists.flatMap(([, list]) => list.flatMap((text) => text.split(' ')));
    this.known = new Set([...own, ...options.usual, ...options.fillers]);
    for (const [tag, list] of lists) {
      for (const text of list) {
        const words = text.split(' ');
        const phrase = { words, letters: words.join('').length, tag };
        this.byFirst.set(words[0]!, [...(this.byFirst.get(words[0]!) ?? []), phrase]);
        for (const word of options.slips ? words : []) {
          for (const form of shortened(word)) this.near.set(form, (this.near.get(form) ?? new Set<string>()).add(word));
        }
      }
    }
  }

  /** Every phrase that stands in these words. */
  in(words: readonly string[]): readonly Found<Tag>[] {
    const found: Found<Tag>[] = [];
    for (const [at, word] of words.entries()) {
      for (const first of this.meanings(word)) {
        for (const phrase of this.byFirst.get(first) ?? []) {
          const end = this.ends(phrase, words, at);
          if (end) found.push({ from: at, ...end, words: phrase.words, tag: phrase.tag });
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

  private ends(phrase: Phrase<Tag>, words: readonly string[], from: number): Pick<Found<Tag>, 'to' | 'slips'> | null {
    const most = phrase.letters >= veryLongPhrase ? 2 : 1;
    let slips = 0;
    let at = from;
    for (const [index, wanted] of phrase.words.entries()) {
      let between = 0;
      for (;;) {
        const word = words[at];
        if (word === undefined) return null;
        if (word === wanted || (wanted === '#' && isNumber(word))) break;
        if (slips < most && this.slipped(word, wanted, phrase)) {
          slips += 1;
          break;
        }
        if (index === 0 || between === mostBetween || !this.options.fillers.has(word)) return null;
        between += 1;
        at += 1;
      }
      at += 1;
    }
    return { to: at, slips };
  }

  private slipped(word: string, wanted: string, phrase: Phrase<Tag>): boolean {
    if (!this.options.slips || this.known.has(word)) return false;
    const { letters } = phrase;
    const least = letters >= longerPhrase ? 3 : letters >= longPhrase ? 4 : leastLetters;
    return wanted.length >= least && isOneSlip(word, wanted);
  }
}

function isNumber(word: string): boolean {
  return /^\d+$/.test(word);
}
