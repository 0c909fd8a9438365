/** How replies to the questions about danger signs, family and bleeding are read: lists, of which each question asks a part. */

import type { Answers, AnswerValue, FurtherAnswers } from '../../case/answers.ts';
import { type AskedPart, answerToPart, saidOfPart, withPart } from '../../case/asked-parts.ts';
import type { Json } from '../../case/events.ts';
import { storedAs } from '../../case/stored.ts';
import { type Parsed, type ShownOption, unreadable } from '../answers/answer.ts';
import { readChoices } from '../answers/choices.ts';
import { tidy } from '../answers/reply.ts';
import type { Moment, Reader } from '../moment.ts';
import { listAnswer } from './common.ts';
import { optionsOf } from './shown-options.ts';

const answersOf = (moment: Moment): Answers => moment.case?.answers ?? {};

/**
 * The ids of a reply. Where "none" has a number of its own it is said by that number alone: a 0, or a word that fits the
 * question before as well, denies nothing.
 */
export function listed(moment: Moment, text: string, more: readonly ShownOption[] = []): Parsed<readonly string[]> {
  const options = optionsOf(moment);
  const none = options.find((one) => one.id === 'none');
  const ownNumber = none !== undefined && none.reply !== '0';
  if (ownNumber && (tidy(text) === '0' || readsAsNone(text, none))) return unreadable('own-none');
  const shown = options.map((one) => (ownNumber && one.id === 'none' ? { ...one, words: [] } : one));
  return readChoices(text, [...shown, ...more]);
}

function readsAsNone(text: string, none: ShownOption): boolean {
  const got = tidy(text) === none.reply ? null : readChoices(text, [{ ...none, reply: '' }]);
  return got?.ok === true;
}

/** Part of a list of the findings, kept beside what the other questions answered. */
function answered(
  moment: Moment,
  part: AskedPart,
  ids: readonly string[],
  more: FurtherAnswers = {},
): { value: Json; fields: FurtherAnswers } {
  const said = ids.filter((id) => id !== 'none');
  const kept = said.includes('unknown') ? saidOfPart(answersOf(moment), part) : [];
  const value = withPart(answersOf(moment), part, said);
  return { value, fields: { [`asked.${part}`]: [...new Set([...kept, ...said])], ...more } };
}

function partReader(part: AskedPart): Reader {
  return (text, m) => {
    const got = listed(m, text);
    if (!got.ok) return got;
    // What this question cannot say, a spot on a PET scan where none is asked for, no answer to it takes back.
    const sayable = optionsOf(m).map(({ id }) => id);
    const ids = [...saidOfPart(answersOf(m), part).filter((id) => !sayable.includes(id)), ...got.value];
    return { ok: true, value: answered(m, part, ids) };
  };
}

const ofLump = ['pulsates', 'moves-with-tongue'] as const;

type OfLump = (typeof ofLump)[number];

const isOfLump = (id: string): id is OfLump => ofLump.some((one) => one === id);

/** By words alone: what has no digit because few ask for it. */
function lumpWords(moment: Moment): readonly ShownOption[] {
  const { texts } = moment.world;
  const id = 'moves-with-tongue';
  return [{ id, reply: '', words: texts.words(moment.person.locale, 'dangerSigns', id) }];
}

/** What beats or moves with the tongue is no danger sign of the thyroid, so that it has a list of its own. */
function readLump(text: string, m: Moment): ReturnType<Reader> {
  const got = listed(m, text, lumpWords(m));
  if (!got.ok) return got;
  const ids = got.value;
  const open = ids.includes('unknown');
  const before = open ? listAnswer(m, 'lump').filter(isOfLump) : [];
  const rest = open ? (['unknown'] as const) : [];
  const lump = [...new Set([...before, ...ids.filter(isOfLump)]), ...rest];
  const signs = ids.filter((one) => !isOfLump(one));
  return { ok: true, value: answered(m, 'lump', signs, { lump, fixedLump: null }) };
}

const numbersOfThinners = {
  warfarin: ['inr', 'inrAgeHours', 'changedSinceInr'],
  heparin: ['platelets'],
  'iv-antiplatelet': ['ivAntiplateletHours'],
} as const;

/** Numbers that go with what is not taken any more, or was not taken before: asked anew. */
function staleNumbers(before: readonly string[], now: readonly string[]): FurtherAnswers {
  const stale = Object.entries(numbersOfThinners).filter(([drug]) => !(before.includes(drug) && now.includes(drug)));
  return Object.fromEntries(stale.flatMap(([, fields]) => fields.map((field) => [field, null])));
}

const isKind = (id: string): boolean => id !== 'warfarin' && id !== 'bleeding-disorder';

/** Which thinner it is comes with the next question; until then the list is open. */
function readBleeding(text: string, m: Moment): ReturnType<Reader> {
  const got = listed(m, text);
  if (!got.ok) return got;
  const before = saidOfPart(answersOf(m), 'bleeding');
  const other = got.value.includes('other-thinner');
  const said = got.value.filter((id) => id !== 'none' && id !== 'other-thinner');
  const { value, fields } = answered(m, 'bleeding', said);
  const list = (value as readonly string[]).filter((id) => id !== 'unknown');
  const kept = said.includes('unknown') ? before.filter(isKind) : [];
  return {
    ok: true,
    value: {
      // Which one it is comes next; one that was named before stands until then.
      value: other ? [...new Set([...list, ...before.filter(isKind), 'unknown'])] : value,
      fields: {
        ...fields,
        otherThinner: other || kept.length > 0,
        thinnerKind: other || kept.length === 0 ? null : kept,
        ...staleNumbers(before, list),
      },
    },
  };
}

function readThinner(text: string, m: Moment): ReturnType<Reader> {
  const got = listed(m, text);
  if (!got.ok) return got;
  const first = answerToPart(m.case!, 'bleeding') ?? [];
  const before = saidOfPart(answersOf(m), 'bleeding');
  const main = before.filter((id) => !isKind(id));
  const open = [...first, ...got.value].includes('unknown');
  const kinds = got.value.includes('unknown') ? before.filter(isKind) : [];
  const named = [...new Set([...main, ...kinds, ...got.value.filter((id) => id !== 'unknown')])];
  return {
    ok: true,
    value: {
      value: open ? [...named, 'unknown'] : named,
      fields: { thinnerKind: got.value, ...staleNumbers(before, named) },
    },
  };
}

/** What does not go up on swallowing may be a node beside the thyroid: then it is one, and no fixed lump. */
function readFixed(text: string, m: Moment): ReturnType<Reader> {
  const got = readChoices(text, optionsOf(m));
  if (!got.ok) return got;
  if (got.value.length !== 1) return unreadable('one-only');
  const [where] = got.value;
  const fields: { -readonly [K in keyof FurtherAnswers]: FurtherAnswers[K] } = {};
  if (where === 'node') {
    const asked = (answerToPart(m.case!, 'lump') ?? []).filter((id) => id !== 'fixed');
    const ids = [...asked, 'neck-nodes'];
    const signs = withPart(answersOf(m), 'lump', ids).filter((id) => id !== 'fixed');
    fields.dangerSigns = storedAs<AnswerValue<'dangerSigns'>>(signs)!;
    fields['asked.lump'] = ids;
  }
  return { ok: true, value: { value: where!, fields } };
}

export const signsReaders: Readonly<Record<string, Reader>> = {
  breathing: partReader('breathing'),
  story: partReader('story'),
  lump: readLump,
  'fixed-lump': readFixed,
  family: partReader('family'),
  bleeding: readBleeding,
  thinner: readThinner,
};
