/** Answers of a scenario: how they are sent now, and whether what somebody sent says the same. */
import type { ShownOption } from '../conversation/answers/answer.ts';
import { readChoice } from '../conversation/answers/choice.ts';
import { readChoices } from '../conversation/answers/choices.ts';
import { clockWords, dayWordsAt } from '../text/time-words.ts';
import type { Reply, Scenario, Step } from './scenario.ts';

const dayMs = 86_400_000;

/** The question that is open: all its screens, and its options with the words that are taken for them. */
export interface Question {
  readonly text: string;
  readonly kind: string | null;
  readonly options: readonly ShownOption[];
}

/** What fills the places of a reply beside the question itself. */
export interface Facts {
  /** The sex as the language's own question asks for it. */
  readonly patient: Omit<Scenario['patient'], 'sex'> & { readonly sex: string };
  /** Digits of the case's code; null before there is one. */
  readonly code: string | null;
  /** Now, ms since 1970, where `{time}` and `{day:N}` are meant. */
  readonly now: number;
  /** IANA zone of the clinic. */
  readonly zone: string;
  /** Short names of the months, January first. */
  readonly months: readonly string[];
}

/** Places that a text may have: `{found}`, `{wet:2}`, `{day:7}` and so on. */
export const placeForm = /\{(patient|born|code|found|time|wet|day)(?::(\d+))?\}/g;

/** The reply as it must be sent now; null where the question does not offer it or something is not known yet. */
export function fillReply(reply: Reply, step: Pick<Step, 'find'>, question: Question, facts: Facts): string | null {
  if ('ids' in reply) {
    const replies = reply.ids.map((id) => question.options.find((one) => one.id === id)?.reply);
    if (!replies.every((one) => one !== undefined)) return null;
    return replies.join(replies.every((one) => one.length === 1) ? '' : ' ');
  }
  let known = true;
  const text = reply.text.replace(placeForm, (_all, place: string, number?: string) => {
    const value = placeValue(place, Number(number ?? 0), step, question, facts);
    known &&= value !== null;
    return value ?? '';
  });
  return known ? text : null;
}

function placeValue(place: string, n: number, { find }: Pick<Step, 'find'>, question: Question, facts: Facts) {
  const { patient, code, now, zone, months } = facts;
  switch (place) {
    case 'patient':
      return `${patient.initials} ${patient.born} ${patient.sex}`;
    case 'born':
      return String(patient.born);
    case 'code':
      return code;
    case 'found':
      return find === null ? null : (new RegExp(find, 'u').exec(question.text)?.[1] ?? null);
    case 'time':
      return clockWords(now, zone);
    case 'day':
      return dayWordsAt(now + n * dayMs, zone, months);
    // As many digits as the question shows for its slides: the first `n` are good, the others not used; all without `n`.
    case 'wet': {
      const all = /6{2,}|8{2,}/.exec(question.text)?.[0] ?? null;
      return all === null || n === 0 ? all : all.slice(0, n).padEnd(all.length, '0');
    }
    default:
      return null;
  }
}

/** Whether the text gives this reply: by its options in any order and in words, else by its letters and digits alone. */
export function says(text: string, reply: Reply, step: Pick<Step, 'find'>, question: Question, facts: Facts): boolean {
  if ('ids' in reply) return sameIds(idsIn(text, question), reply.ids);
  const pattern = /^\/(.+)\/$/.exec(reply.text)?.[1];
  if (pattern !== undefined) return new RegExp(`^(?:${pattern})$`, 'iu').test(text.trim());
  const filled = fillReply(reply, step, question, facts);
  if (filled === null) return false;
  if (question.kind === 'diameters') return sizesOf(text) === sizesOf(filled);
  const wanted = bareOf(filled);
  const said = bareOf(text);
  // `1357H` in any order: a row of one-letter answers is a set.
  const asSet = question.kind === 'choices' && /^[\dA-Z]+$/.test(filled) && !/(.)\1/.test(wanted);
  return said === wanted || (asSet && sorted(said) === sorted(wanted));
}

/** Ids of the options that the text names; null where it names none of this question. */
export function idsIn(text: string, { kind, options }: Question): readonly string[] | null {
  if (options.length === 0) return null;
  if (kind === 'choice') {
    const read = readChoice(text, options);
    return read.ok ? [read.value] : null;
  }
  const read = readChoices(text, options);
  return read.ok ? read.value : null;
}

function sameIds(said: readonly string[] | null, wanted: readonly string[]): boolean {
  return said !== null && said.length === wanted.length && wanted.every((id) => said.includes(id));
}

/** Letters and digits alone, in capitals: `R 22 x 15 x 14 mm` is `R22X15X14`. */
function bareOf(text: string): string {
  return text
    .toUpperCase()
    .replace(/[^\p{L}\p{N}]/gu, '')
    .replace(/(?<=\d)MM/g, '');
}

/** Sides and millimetres alone: `right 2.2 by 1.5 by 1.4 cm` is `R 22 15 14`. */
function sizesOf(text: string): string {
  const isCm = /cm\b/i.test(text);
  const signs =
    text
      .toUpperCase()
      .replace(/[CM]M\b/g, ' ')
      .match(/\d+(?:[.,]\d+)?|\b[RLM](?=[A-Z]|\d|\s|$)/g) ?? [];
  const inMm = (sign: string): string => String(Math.round(Number(sign.replace(',', '.')) * (isCm ? 10 : 1)));
  return signs.map((sign) => (/\d/.test(sign) ? inMm(sign) : sign)).join(' ');
}

const sorted = (text: string): string => [...text].sort().join('');
