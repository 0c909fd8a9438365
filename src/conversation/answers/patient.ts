import { foldWord } from '../../text/fold.ts';
import { type Parsed, read, type UnreadableReason, unreadable } from './answer.ts';
import { longestReply, tidy } from './reply.ts';

/** Words of the patient's line, all folded. */
export interface PatientWords {
  readonly sex: Readonly<Record<string, 'female' | 'male'>>;
  /** Letters with which the words of both begin (`m`: mujer, masculino): asked back, never read as one of them. */
  readonly eitherSex?: readonly string[] | undefined;
  /** `p`, `pregnant`: weeks may follow, 0 says not pregnant. */
  readonly pregnant: readonly string[];
  /** Words that may stand behind an age (`yrs`) or behind weeks (`weeks`). */
  readonly years: readonly string[];
  readonly weeks: readonly string[];
}

/** Whether a word, folded, says a sex, be it not which. */
export function namesSex(words: PatientWords, word: string): boolean {
  return Object.hasOwn(words.sex, word) || words.eitherSex?.includes(word) === true;
}

/** Who is examined. No birth year is worked out from an age; `pregnant` null = not said. */
export interface PatientLine {
  /** One to four letters of any script, in capitals. */
  readonly initials: string;
  readonly birthYear: number | null;
  readonly ageYears: number | null;
  readonly sex: 'female' | 'male';
  readonly pregnant: 'yes' | 'no' | null;
  readonly pregnantWeeks: number | null;
}

/** The same with what is still missing as null, and why the line as a whole cannot be taken. */
export type PatientScan = {
  readonly [Key in keyof PatientLine]: PatientLine[Key] | null;
} & { readonly problem: UnreadableReason | null };

/** Ages above are asked again (our convention). */
const oldestYears = 120;
/** Longest pregnancy that is not a slip, weeks, and ages at which one is asked again (our convention). */
const mostWeeks = 42;
const youngestPregnant = 10;
const oldestPregnant = 60;

/** Reads `AK 1982 F`, `AK 43 F P20`, in any order; `thisYear` is the year at the place of the person. */
export function readPatient(text: string, words: PatientWords, thisYear: number): Parsed<PatientLine> {
  if (text.length > longestReply) return unreadable('too-long');
  if (tidy(text) === '') return unreadable('empty');
  const scan = scanPatient(text, words, thisYear);
  if (scan.problem !== null) return unreadable(scan.problem);
  const { initials, sex, birthYear, ageYears, pregnant, pregnantWeeks } = scan;
  if (initials === null) return unreadable('needs-initials');
  if (birthYear === null && ageYears === null) return unreadable('needs-age');
  if (sex === null) return unreadable('needs-sex');
  return read({ initials, birthYear, ageYears, sex, pregnant, pregnantWeeks });
}

/**
 * What can be told of a patient's line, complete or not. `problem` names the first part that contradicts itself or is
 * unlikely; missing parts are no problem here.
 */
export function scanPatient(text: string, words: PatientWords, thisYear: number): PatientScan {
  const parts = partsOf(text, words);
  const years = parts.numbers.filter((number) => number.length === 4).map(Number);
  const ages = parts.numbers.filter((number) => number.length <= 3).map(Number);
  const sexes = new Set(parts.sexes);
  const [sex = null] = sexes;
  const birthYear = years[0] ?? null;
  const ageYears = ages[0] ?? null;
  const weeks = parts.weeks === null ? null : Number(parts.weeks);
  const pregnant = !parts.pregnant ? null : weeks === 0 ? 'no' : 'yes';
  const initials = parts.initials.length === 1 ? parts.initials[0]! : null;
  const likelyAge = ageYears ?? (birthYear === null ? null : thisYear - birthYear);
  const problem = ((): UnreadableReason | null => {
    const hasShort = parts.initials.some((one) => [...one].length < 4);
    if (parts.named && !hasShort && parts.numbers.length + parts.sexes.length + Number(parts.eitherSex) > 0)
      return 'full-name';
    if (parts.unknown || parts.numbers.length !== years.length + ages.length) return 'not-understood';
    if (years.length > 1 || ages.length > 1) return 'needs-age';
    // `M 1982 F`: one of the letters is meant as initials.
    if (sexes.size > 1 || parts.eitherSex) return parts.initials.length === 0 ? 'needs-initials' : 'needs-sex';
    if (parts.initials.length > 1) return 'needs-initials';
    if (likelyAge !== null && (likelyAge < 0 || likelyAge > oldestYears || ageYears === 0)) return 'unlikely-age';
    if (birthYear !== null && ageYears !== null && ![0, 1].includes(thisYear - birthYear - ageYears)) {
      return 'age-and-year-differ';
    }
    if (weeks !== null && weeks > mostWeeks) return 'weeks-out-of-range';
    if (pregnant === 'yes' && sex === 'male') return 'pregnant-not-female';
    const unlikely = likelyAge !== null && (likelyAge < youngestPregnant || likelyAge > oldestPregnant);
    return pregnant === 'yes' && unlikely ? 'unlikely-age' : null;
  })();
  const pregnantWeeks = pregnant === 'yes' ? weeks : null;
  return { initials, birthYear, ageYears, sex, pregnant, pregnantWeeks, problem };
}

interface PatientParts {
  readonly numbers: readonly string[];
  readonly sexes: readonly ('female' | 'male')[];
  readonly eitherSex: boolean;
  readonly initials: readonly string[];
  readonly pregnant: boolean;
  readonly weeks: string | null;
  readonly unknown: boolean;
  /** A word too long for initials: beside an age or a sex it is a name. */
  readonly named: boolean;
}

function partsOf(text: string, words: PatientWords): PatientParts {
  // `A.K.` and `A. K.` are one word; letters and digits part by themselves (`AK1982F`).
  const joined = tidy(text).replace(/(?<!\p{L})(\p{L})\.\s?(?=\p{L}\b|\p{L}\.)/gu, '$1');
  const tokens = joined.match(/\d+|\p{L}[\p{L}\p{M}]*|[^\s\d\p{L}]/gu) ?? [];
  const numbers: string[] = [];
  const sexes: ('female' | 'male')[] = [];
  const initials: string[] = [];
  let eitherSex = false;
  let pregnant = false;
  let weeks: string | null = null;
  let unknown = false;
  let named = false;
  let lastLetterAt = -1;
  for (let at = 0; at < tokens.length; at += 1) {
    const token = tokens[at]!;
    const word = foldWord(token);
    const before = tokens[at - 1] ?? '';
    const next = tokens[at + 1] ?? '';
    if (/^\d/.test(token)) numbers.push(token);
    else if (Object.hasOwn(words.sex, word)) sexes.push(words.sex[word]!);
    else if (namesSex(words, word)) eitherSex = true;
    else if (words.pregnant.includes(word)) {
      if (pregnant) unknown = true;
      pregnant = true;
      if (/^\d{1,3}$/.test(next)) {
        weeks = next;
        at += 1;
        if (words.weeks.includes(foldWord(tokens[at + 1] ?? ''))) at += 1;
      }
    } else if (/^\d{1,3}$/.test(before) && words.years.includes(word)) continue;
    else if (/^\p{L}/u.test(token)) {
      if ((token.match(/\p{L}/gu) ?? []).length > 4) named = true;
      else if (isLetter(token) && isLetter(before) && initials.length > 0 && lastLetterAt === at - 1) {
        initials[initials.length - 1] += token.toUpperCase();
      } else initials.push(token.toUpperCase());
      lastLetterAt = at;
    } else if (!/^[.,;/+:'’-]$/.test(token)) unknown = true;
  }
  return { numbers, sexes, eitherSex, initials, pregnant, weeks, unknown: unknown || named, named };
}

/** `A K` is written with a space by many: two single letters side by side are one name. */
function isLetter(token: string): boolean {
  return /^\p{L}\p{M}*$/u.test(token);
}
