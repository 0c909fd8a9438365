import { type MeasuredNodule, readDiameters } from './diameters.ts';
import { numberOf, type Phrase, QuickLexicon, range } from './quick-lexicon.ts';
import type { QuickMeaning, QuickVocabulary } from './quick-vocabulary.ts';
import { isSize, type QuickWord } from './quick-words.ts';

/** Something said by the words at these places. `complete`: a list that was named and said to its end. */
export interface Said {
  readonly field: string;
  readonly value: string | number | boolean | readonly string[];
  readonly complete: boolean;
  readonly at: readonly number[];
  readonly nodulesBefore: number;
}

/** A nodule by its size. */
export interface QuickNodule {
  readonly size: MeasuredNodule;
  readonly at: readonly number[];
  readonly sideAt: number | null;
  readonly sideStands: 'before' | 'behind' | 'nowhere';
  /** The word for the side is also one for the patient's sex (`M`). */
  readonly sideIsSex: boolean;
  /** One number without unit, which could be an age. */
  readonly bareNumber: boolean;
}

/** Words by what they may be; places are indexes of words. */
export interface QuickScan {
  readonly said: readonly Said[];
  readonly nodules: readonly QuickNodule[];
  readonly patient: readonly number[];
  readonly unread: readonly number[];
  /** How many unread words may have been nodules of their own. */
  readonly possibleNodules: number;
}

/** Sorts the words of a quick text into sizes, trade words, the patient's words, and what was not read. */
export function scanQuick(words: readonly QuickWord[], vocabulary: QuickVocabulary): QuickScan {
  return new Scanner(words, vocabulary).scan();
}

class Scanner {
  private readonly words: readonly QuickWord[];
  private readonly vocabulary: QuickVocabulary;
  private readonly lexicon: QuickLexicon;
  private readonly said: Said[] = [];
  private readonly nodules: QuickNodule[] = [];
  private readonly candidates: number[] = [];
  private readonly unread: number[] = [];

  constructor(words: readonly QuickWord[], vocabulary: QuickVocabulary) {
    this.words = words;
    this.vocabulary = vocabulary;
    this.lexicon = new QuickLexicon(words, vocabulary);
  }

  scan(): QuickScan {
    let at = this.vocabulary.start.includes(this.lexicon.key(0)) ? 1 : 0;
    const first = at;
    if (this.isName(first)) {
      this.candidates.push(first);
      at += 1;
    }
    while (at < this.words.length) at += this.take(at);
    const patient = this.patientWords(first);
    const taken = new Set(patient);
    const unread = [...this.unread, ...this.candidates.filter((index) => !taken.has(index))];
    return {
      said: this.said,
      nodules: this.nodules,
      patient,
      unread,
      possibleNodules: this.lexicon.possibleNodules(unread),
    };
  }

  /** Initials that are a little word elsewhere (`TO`, `IN`, `OK`): in their place, before the year, or before age and sex. */
  private isName(at: number): boolean {
    const raw = this.words[at]?.raw ?? '';
    const number = this.words[at + 1]?.raw ?? '';
    if (!/^\p{L}{2,4}$/u.test(raw) || this.lexicon.phraseAt(at)) return false;
    return /^(?:19|20)\d\d$/.test(number) || (/^\d{1,3}$/.test(number) && this.lexicon.isSex(at + 2));
  }

  /** Treats the words from `at` and gives how many were treated. */
  private take(at: number): number {
    const size = this.takeSize(at);
    if (size > 0) return size;
    const phrase = this.lexicon.phraseAt(at);
    if (phrase) return this.takePhrase(at, phrase.phrase, phrase.length);
    const number = this.numberBefore(at);
    if (number > 0) return number;
    const key = this.lexicon.key(at);
    const next = this.lexicon.phraseAt(at + 1);
    if (
      this.vocabulary.none.includes(key) &&
      next?.phrase.kind === 'list' &&
      !this.lexicon.doubtful(range(at, 1 + next.length))
    ) {
      this.say(next.phrase.field, [], true, range(at, 1 + next.length));
      return 1 + next.length;
    }
    if (this.vocabulary.doubts.includes(key)) return this.takeDoubt(at);
    if (this.vocabulary.fillers.includes(key)) return 1;
    if (this.lexicon.mayBePatient(at)) this.candidates.push(at);
    else this.unread.push(at);
    return 1;
  }

  private takePhrase(at: number, phrase: Phrase, length: number): number {
    const places = range(at, length);
    switch (phrase.kind) {
      case 'list':
        return this.takeList(at, phrase.field, length);
      case 'number': {
        const raw = this.words[at + length]?.raw ?? '';
        const value = numberOf(phrase.field.endsWith('Mm') ? raw.replace(/mm$/i, '') : raw);
        if (value === null || this.lexicon.doubtful(range(at, length + 1))) {
          // `solid part 1.2cm` must not become a nodule.
          const alone = /^\d/.test(raw) ? length + 1 : length;
          this.unread.push(...range(at, alone));
          return alone;
        }
        this.say(phrase.field, value, true, range(at, length + 1));
        return length + 1;
      }
      case 'means': {
        const denied = this.lexicon.deniedBehind(at + length);
        if (denied || this.lexicon.doubtful(places)) {
          const both = denied && !this.vocabulary.doubts.includes(this.lexicon.key(at + length)) ? length + 1 : length;
          this.unread.push(...range(at, both));
          return both;
        }
        for (const meaning of phrase.meanings) this.say(meaning.field, meaning.value, false, places);
        return length + this.takeFeltSide(at + length, phrase.meanings);
      }
    }
  }

  /** `signs hoarse nodes`, `risks 0`. Complete only when nothing unread stands among or right behind its items. */
  private takeList(at: number, field: string, length: number): number {
    const places = range(at, length);
    let next = at + length;
    if (this.vocabulary.none.includes(this.lexicon.key(next)) && !this.lexicon.doubtful([...places, next])) {
      this.say(field, [], true, [...places, next]);
      return length + 1;
    }
    const items: string[] = [];
    while (next < this.words.length) {
      if (this.vocabulary.fillers.includes(this.lexicon.key(next))) {
        next += 1;
        continue;
      }
      const phrase = this.lexicon.phraseAt(next);
      if (phrase?.phrase.kind !== 'means') break;
      const values = phrase.phrase.meanings.filter((meaning) => meaning.field === field);
      if (values.length === 0 || this.lexicon.deniedBehind(next + phrase.length)) break;
      if (this.lexicon.doubtful(range(next, phrase.length))) break;
      items.push(...values.map((meaning) => String(meaning.value)));
      places.push(...range(next, phrase.length));
      next += phrase.length;
    }
    if (items.length === 0) {
      // `signs 26`: digits of a question that was not shown mean nothing, and are no age.
      const digits = /^\d+$/.test(this.lexicon.key(at + length)) ? 1 : 0;
      this.unread.push(...range(at, length + digits));
      return length + digits;
    }
    const ended = next >= this.words.length || this.lexicon.takenForSure(next);
    this.say(field, items, ended && !this.lexicon.doubtful(places), places);
    return next - at;
  }

  /** `no micro`, and as far as the denial may reach: `no hard nodes`, `no micro, coarse`. */
  private takeDoubt(at: number): number {
    let end = at + 1;
    let fields: readonly string[] | null = null;
    for (let next = at + 1; next < this.words.length; ) {
      if (
        this.vocabulary.fillers.includes(this.lexicon.key(next)) ||
        this.vocabulary.doubts.includes(this.lexicon.key(next))
      ) {
        next += 1;
        continue;
      }
      const found = this.lexicon.phraseAt(next);
      if (!found) break;
      const own =
        found.phrase.kind === 'means' ? found.phrase.meanings.map((meaning) => meaning.field) : [found.phrase.field];
      if (fields !== null && !own.some((field) => fields?.includes(field))) break;
      fields = own;
      next += found.length;
      end = next;
    }
    this.unread.push(...range(at, end - at));
    return end - at;
  }

  private takeFeltSide(at: number, meanings: readonly QuickMeaning[]): number {
    const felt = meanings.some((meaning) => meaning.field === 'palpable' && meaning.value === true);
    const side = this.lexicon.sideAt(at);
    if (!felt || side === null || this.lexicon.sizeWordsFrom(at + 1) > 0 || this.lexicon.isSex(at)) return 0;
    this.say('side', side, true, [at]);
    return 1;
  }

  private numberBefore(at: number): number {
    const glued = /^(\d+(?:[.,]\d+)?)(\p{L}+)$/u.exec(this.lexicon.key(at));
    const word = glued ? glued[2]! : this.lexicon.key(at + 1);
    const value = numberOf(glued ? glued[1]! : (this.words[at]?.raw ?? ''));
    if (value === null || !Object.hasOwn(this.vocabulary.numbersBefore, word)) return 0;
    const places = range(at, glued ? 1 : 2);
    if (this.lexicon.doubtful(places)) this.unread.push(...places);
    else this.say(this.vocabulary.numbersBefore[word]!, value, true, places);
    return places.length;
  }

  private takeSize(at: number): number {
    const side = this.lexicon.sideAt(at);
    if (side !== null) {
      const count = this.lexicon.sizeWordsFrom(at + 1);
      return count === 0 ? 0 : this.addNodule(range(at, count + 1), at, 'before');
    }
    if (!isSize(this.words[at]!.raw, this.vocabulary.units)) return 0;
    const sideBehind = this.lexicon.sideAt(at + 1) !== null && this.lexicon.sizeWordsFrom(at + 2) === 0;
    if (sideBehind) return this.addNodule([at, at + 1], at + 1, 'behind');
    return this.addNodule([at], null, 'nowhere');
  }

  private addNodule(places: readonly number[], sideAt: number | null, sideStands: QuickNodule['sideStands']): number {
    const { sides, units } = this.vocabulary;
    const text = places.map((index) => this.words[index]!.raw).join(' ');
    const sizes = readDiameters(text, { sides, units, maxNodules: 1, sideRequired: false, twoMayStand: true });
    const size = sizes.ok ? sizes.value[0] : undefined;
    if (!size || this.lexicon.doubtful(places)) this.unread.push(...places);
    else {
      const last = this.words[places.at(-1)!]!.raw;
      const bareNumber = sideStands === 'before' && places.length === 2 && /^\d+$/.test(last);
      const sideIsSex = sideAt !== null && this.lexicon.isSex(sideAt);
      this.nodules.push({ size, at: places, sideAt, sideStands, sideIsSex, bareNumber });
    }
    return places.length;
  }

  /** The patient's words: runs that hold a year or a sex, and the first word when initials are missing there. */
  private patientWords(first: number): readonly number[] {
    const runs: number[][] = [];
    for (const index of this.candidates) {
      const run = runs.at(-1);
      if (run && run.at(-1) === index - 1) run.push(index);
      else runs.push([index]);
    }
    const sure = runs
      .filter((run) => run.some((index) => /^\d{4}$/.test(this.lexicon.key(index)) || this.lexicon.isSex(index)))
      .flat();
    const named = sure.some((index) => this.lexicon.isName(index));
    const lone = runs.find((run) => run.length === 1 && run[0] === first && this.lexicon.isName(first));
    return !named && sure.length > 0 && lone && !this.isWholeName(first)
      ? [first, ...sure.filter((index) => index !== first)]
      : sure;
  }

  /** `Mary Okonjo`: a short name with a long one behind it is no initials. */
  private isWholeName(at: number): boolean {
    const next = this.words[at + 1];
    if (!next || this.lexicon.isName(at + 1) || this.lexicon.phraseAt(at + 1) !== null) return false;
    return /^\p{L}{5,}$/u.test(next.raw);
  }

  private say(field: string, value: Said['value'], complete: boolean, at: readonly number[]): void {
    this.said.push({ field, value, complete, at, nodulesBefore: this.nodules.length });
  }
}
