import type { MeasuredNodule } from './answers/diameters.ts';
import { type PatientWords, scanPatient } from './answers/patient.ts';
import { type Said, scanQuick } from './answers/quick-scan.ts';
import { noduleFields, type QuickVocabulary } from './answers/quick-vocabulary.ts';
import { type QuickWord, quickWords } from './answers/quick-words.ts';
import { longestReply } from './answers/reply.ts';

/**
 * One thing that the text says. `item`: `n1` to `n4` for what belongs to a nodule, else null. A list that was not said
 * to be complete ends in `unknown`: an unsaid word is unknown, not absent.
 */
export interface QuickAnswer {
  readonly field: string;
  readonly item: string | null;
  readonly value: string | number | boolean | readonly string[] | readonly number[];
  /** A list that was said to be empty and all the same has items: what was said is kept, and it is asked. */
  readonly contradicts?: true;
}

/** Everything read, and the words that were not, as typed and in order. */
export interface QuickText {
  readonly answers: readonly QuickAnswer[];
  readonly leftover: readonly string[];
}

/** Fields that hold several values (findings contract). */
const listFields: ReadonlySet<string> = new Set(['dangerSigns', 'lump', 'risks', 'bleeding', 'foci']);

const mostNodules = 4;

/**
 * Reads the one-message form in any order: `NEW AK 1982 F R 22x15x14 solid hypo TSH normal felt signs 0 risks 0`.
 * Takes only what is clear: denied or doubted words, numbers without a place, two values of which only one can be true and
 * words that could belong to two nodules stay in `leftover` and are asked. Of a list that denies itself (`signs 0 hoarse`)
 * the items are kept. Words behind a size belong to that nodule. Never throws.
 */
export function readQuickText(text: string, vocabulary: QuickVocabulary, thisYear: number): QuickText {
  if (text.length > longestReply) return { answers: [], leftover: [] };
  const words = quickWords(text, vocabulary.sides, vocabulary.units);
  const scan = scanQuick(words, vocabulary);
  const left = new Set<number>(scan.unread);
  const answers: QuickAnswer[] = [];

  const patient = readPatientWords(words, scan.patient, vocabulary.patient, thisYear);
  for (const index of patient.unread) left.add(index);
  answers.push(...patient.answers);
  const sexKnown = patient.answers.some((answer) => answer.field === 'patient.sex');
  const ageKnown = patient.answers.some((answer) => /birthYear|ageYears/.test(answer.field));

  const sidesUnclear = scan.nodules.length > 1 && new Set(scan.nodules.map((nodule) => nodule.sideStands)).size > 1;
  const tooMany = scan.nodules.length > mostNodules;
  scan.nodules.forEach((nodule, index) => {
    // `L 43` with no age elsewhere could be initials and age.
    if (tooMany || (nodule.bareNumber && !ageKnown)) {
      for (const at of nodule.at) left.add(at);
      return;
    }
    const item = `n${index + 1}`;
    answers.push(...sizeAnswers(nodule.size, item));
    const sideUnclear = sidesUnclear || (nodule.sideIsSex && !sexKnown);
    if (nodule.sideAt !== null && sideUnclear) left.add(nodule.sideAt);
    else if (nodule.size.side !== null) answers.push({ field: 'site', item, value: nodule.size.side });
  });

  const dropped = scan.nodules.some((nodule) => nodule.bareNumber && !ageKnown);
  const unclear = tooMany || dropped || (scan.possibleNodules > 0 && scan.nodules.length + scan.possibleNodules > 1);
  const placed = placeSaid(scan.said, scan.nodules.length, unclear);
  for (const index of placed.unread) left.add(index);
  const settled = settle(placed.said);
  for (const index of settled.unread) left.add(index);
  answers.push(...settled.answers);

  const leftover = [...left].sort((one, other) => one - other).map((index) => words[index]!.raw);
  return { answers, leftover };
}

/** `mmTwo`: two of three sizes, the third is asked. */
function sizeAnswers(size: MeasuredNodule, item: string): readonly QuickAnswer[] {
  if (size.mmTwo !== undefined) return [{ field: 'mmTwo', item, value: size.mmTwo }];
  if (size.mm !== null) return [{ field: 'mm', item, value: size.mm }];
  return size.mmRange === null ? [] : [{ field: 'mmRange', item, value: size.mmRange }];
}

interface PatientPart {
  readonly answers: readonly QuickAnswer[];
  readonly unread: readonly number[];
}

function readPatientWords(
  words: readonly QuickWord[],
  indexes: readonly number[],
  vocabulary: PatientWords,
  thisYear: number,
): PatientPart {
  if (indexes.length === 0) return { answers: [], unread: [] };
  const line = indexes.map((index) => words[index]!.raw).join(' ');
  const { problem, ...scan } = scanPatient(line, vocabulary, thisYear);
  if (problem !== null || indexes.some((index) => words[index]!.doubtful)) return { answers: [], unread: indexes };
  const answers = Object.entries(scan).flatMap(([key, value]) =>
    value === null ? [] : [{ field: `patient.${key}`, item: null, value }],
  );
  return { answers, unread: [] };
}

interface PlacedSaid extends Said {
  readonly item: string | null;
}

/** Gives words of a nodule to the size before them; to none where that is unclear. */
function placeSaid(
  said: readonly Said[],
  noduleCount: number,
  nodulesUnclear: boolean,
): { readonly said: readonly PlacedSaid[]; readonly unread: readonly number[] } {
  const belongs = (one: Said): boolean => noduleFields.has(one.field);
  const unclear = nodulesUnclear || (noduleCount > 1 && said.some((one) => belongs(one) && one.nodulesBefore === 0));
  const placed: PlacedSaid[] = [];
  const unread: number[] = [];
  for (const one of said) {
    if (!belongs(one)) placed.push({ ...one, item: null });
    else if (unclear) unread.push(...one.at);
    else placed.push({ ...one, item: noduleCount > 1 ? `n${one.nodulesBefore}` : 'n1' });
  }
  return { said: placed, unread };
}

/** One value a field: contradictions go back unread with all that their words say, lists are joined. */
function settle(said: readonly PlacedSaid[]): {
  readonly answers: readonly QuickAnswer[];
  readonly unread: readonly number[];
} {
  const unread = contradictory(said);
  const answers: QuickAnswer[] = [];
  for (const group of byField(said.filter(({ at }) => !at.some((index) => unread.has(index))))) {
    const { field, item } = group[0]!;
    if (field === 'side') {
      // Felt on both sides is no contradiction.
      for (const side of new Set(group.map((one) => String(one.value)))) answers.push({ field, item, value: side });
      continue;
    }
    const isList = listFields.has(field);
    const value = isList ? joinedList(group) : onlyValue(group);
    if (value !== null)
      answers.push({ field, item, value, ...(isList && deniesItself(group) ? { contradicts: true } : {}) });
  }
  return { answers, unread: [...unread] };
}

/** Places of the words of which only one can be true. Such a word says nothing: `felt` and `not felt` are no examination. */
function contradictory(said: readonly PlacedSaid[]): ReadonlySet<number> {
  const groups = byField(said).filter(([{ field }]) => field !== 'side' && !listFields.has(field));
  return new Set(groups.filter((group) => onlyValue(group) === null).flatMap((group) => group.flatMap(({ at }) => at)));
}

/** What was said of each field of each nodule, in the order in which they came up. */
function byField(said: readonly PlacedSaid[]): readonly (readonly [PlacedSaid, ...PlacedSaid[]])[] {
  const byPlace = new Map<string, [PlacedSaid, ...PlacedSaid[]]>();
  for (const one of said) {
    const place = `${one.field} ${one.item}`;
    const group = byPlace.get(place);
    if (group) group.push(one);
    else byPlace.set(place, [one]);
  }
  return [...byPlace.values()];
}

function onlyValue(group: readonly PlacedSaid[]): QuickAnswer['value'] | null {
  const [first, ...others] = group;
  return first && !Array.isArray(first.value) && others.every((one) => one.value === first.value) ? first.value : null;
}

const none = ({ value }: PlacedSaid): boolean => Array.isArray(value) && value.length === 0;

function deniesItself(group: readonly PlacedSaid[]): boolean {
  return group.some(none) && !group.every(none);
}

/** Nothing that was said is lost: an empty list with items beside it is those items, and open. */
function joinedList(group: readonly PlacedSaid[]): readonly string[] {
  const items = new Set<string>();
  for (const { value } of group) for (const item of Array.isArray(value) ? value : [String(value)]) items.add(item);
  const complete = group.some((one) => one.complete) && !deniesItself(group);
  return complete ? [...items] : [...items, 'unknown'];
}
