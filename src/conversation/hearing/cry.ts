/** Plain words of danger in a text: heard with slips, not heard where they deny, ask, remember or mean something else. */
import { foldWord } from '../../text/fold.ts';
import type { AlarmWords } from './alarm-words.ts';
import { type Found, Phrases } from './phrases.ts';

/** `now`: raises the alarm at once. `soon`: first aid, and the alarm when nothing is answered. */
export type Cry = 'now' | 'soon';

/** Words before a cry over which a denial reaches: `no sign of any swelling`, `not really bleeding`. */
const noReach = 4;
const notReach = 2;
/** Words before a cry over which a question reaches: `if she faints`. */
const askedReach = 2;
/** Words behind a cry within which its end is said: `bleeding has now stopped`. */
const overReach = 3;

interface Ready {
  readonly cries: Phrases<Cry>;
  readonly alone: Phrases<Cry>;
  readonly lures: Phrases<'lure'>;
  readonly no: Phrases<'no' | 'not'>;
  readonly asked: Phrases<'asked'>;
  readonly over: Phrases<'over'>;
  readonly past: Phrases<'past'>;
  readonly fillers: ReadonlySet<string>;
  readonly turns: ReadonlySet<string>;
  readonly joins: ReadonlySet<string>;
  readonly firm: ReadonlySet<string>;
  readonly present: ReadonlySet<string>;
  readonly others: ReadonlySet<string>;
  readonly denies: ReadonlySet<string>;
}

const ready = new WeakMap<AlarmWords, Ready>();

/** The most urgent cry in the text, in any of these languages; null = none. */
export function cryIn(text: string, languages: readonly AlarmWords[]): Cry | null {
  const clauses = clausesOf(text);
  if (clauses.length === 0) return null;
  return most(languages.map((words) => cryOf(clauses, readyFor(words))));
}

/** True: one of these phrases stands in the text and is not denied before it. */
export function saysUndenied(text: string, phrases: readonly string[], language: AlarmWords): boolean {
  const own = readyFor(language);
  const wanted = new Phrases([['said', phrases]], { fillers: own.fillers, usual: new Set(), slips: false });
  return clausesOf(text).some((words) => {
    const clause = clauseOf(words, own);
    return wanted.in(words).some((one) => !isDenied(clause, one, own));
  });
}

/** True: one of these phrases stands in a clause where nothing before it denies, however far before; `denials`: more that do. */
export function saysFreely(
  text: string,
  phrases: readonly string[],
  language: AlarmWords,
  denials: readonly string[] = [],
): boolean {
  const { fillers, no } = readyFor(language);
  const exact = { fillers, usual: new Set<string>(), slips: false };
  const [wanted, more] = [phrases, denials].map((list) => new Phrases([['said', list]], exact));
  return clausesOf(text).some((words) => {
    const denied = [...no.in(words), ...more!.in(words)].map(({ from }) => from);
    return wanted!.in(words).some(({ from }) => denied.every((at) => at >= from));
  });
}

/** Words of the text without those that say nothing by themselves, and without numbers. */
export function bareWords(text: string, language: AlarmWords): readonly string[] {
  const { fillers } = readyFor(language);
  return clausesOf(text)
    .flat()
    .filter((word) => !fillers.has(word) && !/^\d+$/.test(word));
}

/** Clauses as words, folded, without apostrophes: `can't` is `cant`. A question mark or colon does not part: `swelling? no`. */
function clausesOf(text: string): readonly (readonly string[])[] {
  if (!/\p{L}/u.test(text)) return [];
  return foldWord(text.replace(/[\r\n]+/g, ' . '))
    .replace(/(?<=\p{L})['’`´](?=\p{L})/gu, '')
    .split(/[.,;!()"،؛]+|\s-+\s/u)
    .map((clause) => clause.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== ''))
    .filter((words) => words.length > 0);
}

function cryOf(clauses: readonly (readonly string[])[], own: Ready): Cry | null {
  const heard = clauses.flatMap((words) => criesOf(words, own));
  const said = clauses.flat();
  const bare = said.filter((word) => !own.fillers.has(word) && !/^\d+$/.test(word));
  // As it was said too: a word that says little inside a sentence may be all there is.
  const whole = [said, bare].flatMap((words) =>
    own.alone.in(words).filter((one) => one.from === 0 && one.to === words.length),
  );
  // Of what means another thing inside a sentence only the bare word counts.
  const isLure = whole.length > 0 && clauses.some((words) => own.lures.in(words).length > 0);
  return most(isLure ? heard : [...heard, ...whole.map((one) => one.tag)]);
}

function most(heard: readonly (Cry | null)[]): Cry | null {
  return heard.includes('now') ? 'now' : heard.includes('soon') ? 'soon' : null;
}

/** A clause with everything in it that takes a cry back, looked for once. */
interface Clause {
  readonly words: readonly string[];
  readonly denials: readonly Found<'no' | 'not'>[];
  readonly ends: readonly Found<'over'>[];
  readonly questions: readonly Found<'asked'>[];
}

function clauseOf(words: readonly string[], own: Ready): Clause {
  return { words, denials: own.no.in(words), ends: own.over.in(words), questions: own.asked.in(words) };
}

function criesOf(words: readonly string[], own: Ready): readonly Cry[] {
  const found = own.cries.in(words);
  if (found.length === 0 || isElsewhere(words, own)) return [];
  const lures = own.lures.in(words);
  const clause = clauseOf(words, own);
  return found
    .filter((one) => !lures.some((lure) => isMeant(lure, one)))
    .filter((one) => !isDenied(clause, one, own) && !isOver(clause, one, own) && !isAsked(clause, one))
    .filter((one) => !found.some((other) => isWithin(one, other)))
    .map((one) => one.tag);
}

/** The usual phrase is meant and not the cry that it touches. Read with a slip it must say more than the cry. */
function isMeant(lure: Found<unknown>, cry: Found<unknown>): boolean {
  if (lure.from >= cry.to || cry.from >= lure.to) return false;
  return lure.slips === 0 || lure.to - lure.from > cry.to - cry.from;
}

/** `fainted` within `nearly fainted`. */
function isWithin(one: Found<unknown>, other: Found<unknown>): boolean {
  return other.from <= one.from && one.to <= other.to && one.to - one.from < other.to - other.from;
}

/** Long ago, or not the patient. */
function isElsewhere(words: readonly string[], own: Ready): boolean {
  if (words.some((word) => own.others.has(word))) return true;
  return own.past.in(words).length > 0 && !words.some((word) => own.present.has(word));
}

function isDenied({ words, denials }: Clause, cry: Found<unknown>, own: Ready): boolean {
  if (cry.words.some((word) => own.firm.has(word))) return false;
  return denials.some((denial) => {
    if (denial.to > cry.from) return false;
    // `has not stopped bleeding`: what denies is denied itself.
    if (denial.from > 0 && own.denies.has(words[denial.from - 1]!)) return false;
    if (cry.from - denial.to > (denial.tag === 'no' ? noReach : notReach)) return false;
    const between = words.slice(denial.to, cry.from);
    const turned = (word: string): boolean => own.turns.has(word) || own.denies.has(word);
    return !between.some((word) => turned(word) || (denial.tag === 'not' && own.joins.has(word)));
  });
}

function isOver({ words, ends }: Clause, cry: Found<unknown>, own: Ready): boolean {
  return ends.some((end) => {
    if (end.from < cry.to || end.from - cry.to >= overReach) return false;
    if (words.slice(cry.to, end.from).some((word) => own.denies.has(word))) return false;
    // `swelling no` ends here; in `swelling no voice` the no belongs to what follows.
    return !own.denies.has(words[end.from]!) || end.to === words.length;
  });
}

function isAsked({ questions }: Clause, cry: Found<unknown>): boolean {
  return questions.some((one) => one.to <= cry.from && cry.from - one.to < askedReach);
}

function readyFor(words: AlarmWords): Ready {
  const before = ready.get(words);
  if (before) return before;
  const fillers = new Set(words.fillers);
  const denies = new Set([...words.no, ...words.not]);
  const exact = { fillers, usual: new Set<string>(), slips: false };
  const loose = { fillers, usual: new Set([...words.usual, ...denies]), slips: words.slips !== false };
  const made: Ready = {
    cries: new Phrases<Cry>(
      [
        ['now', words.now],
        ['soon', words.soon],
      ],
      loose,
    ),
    alone: new Phrases<Cry>(
      [
        ['now', words.alone.now],
        ['soon', words.alone.soon],
      ],
      loose,
    ),
    lures: new Phrases([['lure', words.lures]], loose),
    no: new Phrases<'no' | 'not'>(
      [
        ['no', words.no],
        ['not', words.not],
      ],
      exact,
    ),
    asked: new Phrases([['asked', words.asked]], exact),
    over: new Phrases([['over', words.over]], exact),
    past: new Phrases([['past', words.past]], exact),
    fillers,
    turns: new Set(words.turns),
    joins: new Set(words.joins),
    firm: new Set(words.firm),
    present: new Set(words.present),
    others: new Set(words.others),
    denies,
  };
  ready.set(words, made);
  return made;
}
