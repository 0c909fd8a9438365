/**
 * What the laboratory's own words name: a type of tumour, or in a lymph node an infection. They steer the advice, and never
 * lower anything. A word that is denied or doubted steers nothing.
 */

/** Types that need another way than thyroid surgery, the most pressing first. */
const ownWayTypes = ['anaplastic', 'lymphoma', 'medullary', 'metastasis'] as const;
/** One of {@link ownWayTypes}. */
export type OwnWayType = (typeof ownWayTypes)[number];

/** What steers the advice: the types with a way of their own, and `cancer`, one that is named beside a category which is none. */
export const tumourTypes = [...ownWayTypes, 'cancer'] as const;
/** One of {@link tumourTypes}. */
export type TumourType = (typeof tumourTypes)[number];

/** Infections of a lymph node that sit in its benign category and need treatment. */
export const nodeInfections = ['tuberculosis', 'granuloma'] as const;
/** One of {@link nodeInfections}. */
export type NodeInfection = (typeof nodeInfections)[number];

/**
 * What words can name. `thyroid-cancer` = a cancer of the thyroid itself (papillary); `thyroid-tumour` = what begins there and
 * need be no cancer (follicular); `cancer` = any, without its type.
 */
export const namedThings = [...ownWayTypes, ...nodeInfections, 'thyroid-cancer', 'cancer', 'thyroid-tumour'] as const;
/** One of {@link namedThings}. */
export type NamedThing = (typeof namedThings)[number];

/**
 * The words of a language, folded (lower case, no accents). A `*` at the end of a word stands for any ending. `denials` take
 * back ("no", "excluded", and what is only the patient's past), `doubts` leave open ("possible", "?"), behind `turns` ("but")
 * neither holds any more.
 */
export interface ResultVocabulary {
  readonly things: Readonly<Record<NamedThing, readonly string[]>>;
  readonly denials: readonly string[];
  readonly doubts: readonly string[];
  readonly turns: readonly string[];
}

/** What was named: as found, as perhaps there, or as not there. Nothing is in two of them. */
export interface NamedIn {
  readonly found: readonly NamedThing[];
  readonly doubted: readonly NamedThing[];
  readonly denied: readonly NamedThing[];
}

type Manner = 'found' | 'doubted' | 'denied';

/**
 * Reads folded words. A denial or doubt holds for its own clause, and goes on over commas while a list of names goes on ("no
 * lymphoma, anaplastic or metastasis"), until the sentence ends or turns. Said in two manners, the weaker one counts: the
 * doctor sees the words themselves in any case.
 */
export function namedIn(words: string, vocabulary: ResultVocabulary): NamedIn {
  const said: Record<Manner, Set<NamedThing>> = { found: new Set(), doubted: new Set(), denied: new Set() };
  for (const sentence of sentencesOf(words, vocabulary.turns)) {
    let before: Manner = 'found';
    for (const clause of sentence.split(/[,:()[\]]+/).filter((one) => one.trim() !== '')) {
      const { things, rest } = readClause(clause, vocabulary);
      const manner: Manner = mannerOf(rest, vocabulary) ?? before;
      for (const thing of things) said[manner].add(thing);
      before = things.length > 0 ? manner : 'found';
    }
  }
  const only = (manner: Manner, ...not: readonly Manner[]): readonly NamedThing[] =>
    namedThings.filter((one) => said[manner].has(one) && !not.some((other) => said[other].has(one)));
  return {
    found: only('found', 'doubted', 'denied'),
    doubted: only('doubted', 'denied'),
    denied: only('denied'),
  };
}

/** Null: the clause neither denies nor doubts. */
function mannerOf(tokens: readonly string[], { denials, doubts }: ResultVocabulary): Manner | null {
  const has = (phrases: readonly string[]): boolean =>
    tokens.some((_, at) => phrases.some((one) => matchAt(tokens, at, one) > 0));
  // "not excluded" and "cannot exclude" leave open: phrases of doubt go before a word of denial in them.
  if (has(doubts)) return 'doubted';
  return has(denials) ? 'denied' : null;
}

/**
 * Types that steer the advice about a thyroid lump, the most pressing first. A metastasis named beside a tumour of the thyroid
 * itself is that tumour's spread, not a tumour from elsewhere.
 */
function ownWayTypesIn(named: NamedIn): readonly OwnWayType[] {
  const types = ownWayTypes.filter((one) => named.found.includes(one));
  const ofThyroid =
    named.found.includes('thyroid-tumour') ||
    named.found.includes('thyroid-cancer') ||
    types.includes('medullary') ||
    types.includes('anaplastic');
  return ofThyroid ? types.filter((one) => one !== 'metastasis') : types;
}

/** Categories that say cancer, or a suspicion of it, by themselves: a cancer without a way of its own adds nothing to them. */
const sayCancer: ReadonlySet<string> = new Set(['Thy4', 'Thy5', 'L3', 'L4', 'L5']);

/**
 * What the words beside a category steer by, the most pressing first: the types that have their own way, else `cancer` where
 * one is named and the category is none. A cyst, too few cells or a benign smear never outweigh it.
 */
export function typesThatSteer(named: NamedIn, canonical: string): readonly TumourType[] {
  const types = ownWayTypesIn(named);
  if (types.length > 0 || sayCancer.has(canonical)) return types;
  return named.found.includes('thyroid-cancer') || named.found.includes('cancer') ? ['cancer'] : [];
}

/** Infections that a node's words name, doubted ones too: what may be tuberculosis is looked into. */
export function infectionsNamed(named: NamedIn): readonly NodeInfection[] {
  return nodeInfections.filter((one) => perhaps(named, one));
}

/** Found, or not sure. */
export function perhaps(named: NamedIn, thing: NamedThing): boolean {
  return named.found.includes(thing) || named.doubted.includes(thing);
}

function sentencesOf(words: string, turns: readonly string[]): readonly string[] {
  const plain = turns.reduce((text, turn) => text.replaceAll(` ${turn} `, ' ; '), ` ${words} `);
  return plain.split(/[.;!\n]+/);
}

/** Words of a clause without the names, and the names in it; a question mark is a word of its own. */
function readClause(clause: string, { things }: ResultVocabulary): { things: NamedThing[]; rest: string[] } {
  const tokens = clause
    .replaceAll('?', ' ? ')
    .split(/[^\p{L}\p{M}\p{N}?]+/u)
    .filter((one) => one !== '');
  const names = new Set<NamedThing>();
  const rest: string[] = [];
  for (let at = 0; at < tokens.length; ) {
    const hit = longestAt(tokens, at, things);
    if (hit) names.add(hit.thing);
    else rest.push(tokens[at]!);
    at += hit?.length ?? 1;
  }
  return { things: [...names], rest };
}

function longestAt(
  tokens: readonly string[],
  at: number,
  things: ResultVocabulary['things'],
): { readonly thing: NamedThing; readonly length: number } | null {
  const hits = namedThings.map((thing) => ({
    thing,
    length: Math.max(0, ...things[thing].map((phrase) => matchAt(tokens, at, phrase))),
  }));
  const best = hits.reduce((one, other) => (other.length > one.length ? other : one));
  return best.length > 0 ? best : null;
}

/** How many tokens from here on the phrase takes; 0 = it does not stand here. */
function matchAt(tokens: readonly string[], at: number, phrase: string): number {
  const wanted = phrase.split(' ');
  const fits = wanted.every((word, index) => {
    const token = tokens[at + index];
    if (token === undefined) return false;
    return word.endsWith('*') ? token.startsWith(word.slice(0, -1)) : token === word;
  });
  return fits ? wanted.length : 0;
}
