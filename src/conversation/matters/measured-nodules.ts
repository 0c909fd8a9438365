/** What a case keeps of its nodules when their sizes are sent: side, size, and what was known of the same nodule before. */

import {
  type Answers,
  answeredKeys,
  type FurtherAnswers,
  type ItemField,
  isOfNodule,
  itemKey,
} from '../../case/answers.ts';
import { storedAs } from '../../case/stored.ts';
import type { MeasuredNodule } from '../answers/diameters.ts';
import type { Moment } from '../moment.ts';
import { listAnswer, sideOf, sizeOf } from './common.ts';

type Filled = { -readonly [K in keyof Answers]: Answers[K] };

/** What is kept of one nodule beside its side and size. */
const details: readonly ItemField[] = [
  ...(['palpable', 'composition', 'spongiformWhole', 'eccentric', 'solidPartMm', 'inside-again', 'features'] as const),
  ...([
    'echogenicity',
    'hypoechoicPart',
    'shape',
    'margin',
    'capsule',
    'foci',
    'asked-bright',
    'rimExtrusion',
  ] as const),
];

/**
 * Sides and sizes as they were sent. What is known of a nodule stays with the nodule of the same side, where that side has one;
 * of two on a side, with the one of the same size. Words that stood with no size belong to the one nodule, or to nobody knows which.
 */
export function sizeFields(moment: Moment, measured: readonly MeasuredNodule[]): FurtherAnswers {
  const answers = moment.case?.answers ?? {};
  const before = Array.isArray(answers.nodules) ? listAnswer(moment, 'nodules') : null;
  const fields: Filled = { nodules: measured.map((_one, index) => `n${index + 1}`) };
  for (const key of answeredKeys(moment.case).filter(isOfNodule)) fields[key] = null;
  measured.forEach((one, index) => {
    const id = `n${index + 1}`;
    const from = before === null ? (measured.length === 1 ? id : null) : sameNodule(moment, before, measured, one);
    for (const name of details) {
      const value = from === null ? null : answers[itemKey(from, name)];
      if (value !== undefined && value !== null) fields[itemKey(id, name)] = value;
    }
    fields[itemKey(id, 'site')] = one.side;
    fields[itemKey(id, 'mm')] = one.mm;
    fields[itemKey(id, 'mmRange')] = one.mmRange;
  });
  return changed(answers, fields);
}

/** Without what says the same as before. */
export function changed(answers: Answers, fields: Answers): FurtherAnswers {
  const differs = (key: keyof Answers): boolean => JSON.stringify(answers[key] ?? null) !== JSON.stringify(fields[key]);
  const keys = (Object.keys(fields) as (keyof Answers)[]).filter(differs);
  return storedAs<FurtherAnswers>(Object.fromEntries(keys.map((key) => [key, fields[key] ?? null])))!;
}

/** The nodule of before that this one is; null where that is not certain. */
function sameNodule(
  moment: Moment,
  before: readonly string[],
  measured: readonly MeasuredNodule[],
  one: MeasuredNodule,
): string | null {
  const there = before.filter((id) => sideOf(moment, id) === one.side);
  const here = measured.filter((other) => other.side === one.side);
  if (there.length === 1 && here.length === 1) return there[0]!;
  const alike = there.filter((id) => sizeOf(moment, id).join('x') === (one.mm ?? []).join('x'));
  return alike.length === 1 && one.mm !== null ? alike[0]! : null;
}
