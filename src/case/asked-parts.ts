/** Which part of the findings each of the split questions asks, and what was answered to it. */
import type { Answers, CaseField } from './answers.ts';
import { answerOf, type Case } from './case.ts';
import type { Json } from './events.ts';

/**
 * The questions whose answers are lists of the findings, in the order in which they are asked: the list each one is a part
 * of and what may be said there. What was answered is kept as `asked.<part>`; a part without it was not asked.
 */
export const askedParts = {
  breathing: { field: 'dangerSigns', ids: ['stridor', 'breathless'] },
  story: { field: 'dangerSigns', ids: ['voice-change', 'swallowing', 'rapid-growth'] },
  lump: { field: 'dangerSigns', ids: ['hard', 'fixed', 'hard-or-fixed', 'neck-nodes'] },
  family: { field: 'risks', ids: ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'] },
  bleeding: {
    field: 'bleeding',
    ids: ['warfarin', 'bleeding-disorder', 'antiplatelet', 'oral-anticoagulant', 'heparin', 'iv-antiplatelet'],
  },
} as const;

export type AskedPart = keyof typeof askedParts;

/** Every part, in the order of the questions. */
export const partNames = Object.keys(askedParts) as readonly AskedPart[];

/** What was answered to this question: ids, with `unknown` where it was not known. Null: not asked. */
export function answerToPart(of: Case, part: AskedPart): readonly string[] | null {
  return answerOf(of, `asked.${part}`) ?? null;
}

/** What the case holds of this part, asked or said without being asked, without `unknown`. */
export function saidOfPart(answers: Answers, part: AskedPart): readonly string[] {
  const { field, ids } = askedParts[part];
  const own: readonly string[] = ids;
  return texts(answers[field]).filter((one) => own.includes(one));
}

/**
 * The whole list with this part answered anew by `ids`: the other parts stay, and it is open (`unknown`) as long as a part of
 * it was not asked or is not known. `unknown` wipes nothing: what was said of this part stays beside it.
 */
export function withPart(answers: Answers, part: AskedPart, ids: readonly string[]): readonly string[] {
  const { field, ids: own } = askedParts[part];
  const kept = ids.includes('unknown') ? saidOfPart(answers, part) : [];
  const others = texts(answers[field]).filter((one) => one !== 'unknown' && !(own as readonly string[]).includes(one));
  const said = [...kept, ...ids.filter((one) => (own as readonly string[]).includes(one))];
  const asked = (one: AskedPart): readonly string[] =>
    one === part ? ids : texts(answers[`asked.${one}`], ['unknown']);
  const sisters = partNames.filter((one) => askedParts[one].field === field);
  const open = sisters.some((one) => asked(one).includes('unknown'));
  return [...new Set([...others, ...said]), ...(open ? ['unknown'] : [])];
}

/** Fields that are forgotten where danger signs of another day are asked again. */
export const signFields: readonly CaseField[] = [
  ...(['dangerSigns', 'lump', 'fixedLump'] as const),
  ...partNames.filter((part) => askedParts[part].field === 'dangerSigns').map((part) => `asked.${part}` as const),
];

/**
 * The lists of two entries about one patient, as one: what is a sign or a risk in either stays one, and a part is open unless
 * one of the two knows it. Only fields that stand in either are given.
 */
export function joinedLists(one: Answers, other: Answers): Answers {
  const joined: { -readonly [K in keyof Answers]: Answers[K] } = {};
  for (const part of partNames) {
    const asked = [one, other].flatMap((of) =>
      Array.isArray(of[`asked.${part}`]) ? [texts(of[`asked.${part}`])] : [],
    );
    if (asked.length === 0) continue;
    const said = asked.flat().filter((id) => id !== 'unknown');
    const open = asked.every((ids) => ids.includes('unknown'));
    joined[`asked.${part}`] = [...new Set([...said, ...(open ? ['unknown'] : [])])];
  }
  for (const field of ['dangerSigns', 'risks', 'bleeding'] as const) {
    const said = [one, other].flatMap((of) => texts(of[field]));
    if (!Array.isArray(one[field]) && !Array.isArray(other[field])) continue;
    const parts = partNames.filter((part) => askedParts[part].field === field);
    const open = parts.some((part) => texts(joined[`asked.${part}`], ['unknown']).includes('unknown'));
    joined[field] = [...new Set([...said.filter((id) => id !== 'unknown'), ...(open ? ['unknown'] : [])])];
  }
  return joined;
}

function texts(value: Json | undefined, otherwise: readonly string[] = []): readonly string[] {
  return Array.isArray(value) ? value.map(String) : otherwise;
}
