/** How a nodule looks and what shines in it, as the question's answer and the probe say together. */

import { type Answers, type FurtherAnswers, itemKey } from '../../case/answers.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import type { Moment } from '../moment.ts';
import { listAnswer, textAnswer } from './common.ts';
import { changed } from './measured-nodules.ts';

/** A weak probe cannot be trusted for tiny dots, edge detail, mild darkness or a thin rim; for gross extension and shape it can (our convention). */
export const isWeak = (moment: Moment): boolean => textAnswer(moment, 'ultrasound.probe') !== 'linear';

/** The looks that were named, the rest absent, or unknown where it cannot be seen. */
export function looksOf(ids: readonly string[], weakProbe: boolean) {
  const has = (id: string): boolean => ids.includes(id);
  const rest = ids.includes('unknown');
  const fine = rest || weakProbe;
  return {
    echogenicity: has('very-hypoechoic')
      ? 'very-hypoechoic'
      : has('hypoechoic')
        ? 'hypoechoic'
        : fine
          ? 'unknown'
          : 'isoechoic',
    hypoechoicPart: fine ? 'unknown' : false,
    shape: has('taller-than-wide') ? 'taller-than-wide' : rest ? 'unknown' : 'wider-than-tall',
    margin: has('irregular') ? 'irregular' : fine ? 'unknown' : 'smooth',
    capsule: has('invaded') ? 'invaded' : rest ? 'unknown' : 'intact',
  } as const satisfies FurtherAnswers;
}

/** `9` wipes nothing: what was named before stays named. */
export function kept(before: readonly string[], ids: readonly string[]): readonly string[] {
  if (!ids.includes('unknown')) return ids;
  return [...new Set([...before.filter((id) => id !== 'none' && id !== 'unknown'), ...ids])];
}

/** What shines in it; unknown beside it where the probe is weak. */
export function fociOf(ids: readonly string[], weakProbe: boolean): readonly string[] {
  return weakProbe ? [...new Set([...ids, 'unknown'])] : ids;
}

const describing = ['echogenicity', 'hypoechoicPart', 'shape', 'margin', 'capsule'] as const;

/** What was described already, as another probe than the one first said can be trusted for it. */
export function seenByProbe(moment: Moment, weakProbe: boolean): FurtherAnswers {
  const fields: { -readonly [K in keyof Answers]: Answers[K] } = {};
  for (const id of moment.case ? nodulesOf(moment.case) : []) {
    const looks = listAnswer(moment, 'features', id);
    const whole = looks.length > 0 && !looks.includes('unknown');
    const seen = looksOf(looks, weakProbe);
    for (const name of whole ? describing : []) fields[itemKey(id, name)] = seen[name];
    if (moment.case!.answers[itemKey(id, 'asked-bright')] == null) continue;
    fields[itemKey(id, 'foci')] = fociOf(listAnswer(moment, 'asked-bright', id), weakProbe);
  }
  return changed(moment.case?.answers ?? {}, fields);
}

/** What a quick text says of a lump's look that no option of the question names: that it is as it should be, or nearly. */
const plainLooks = {
  echogenicity: ['isoechoic', 'hyperechoic', 'anechoic'],
  shape: ['wider-than-tall'],
  margin: ['smooth', 'ill-defined'],
  capsule: ['intact'],
} as const;
type LookField = keyof typeof plainLooks;
const lookFields = Object.keys(plainLooks) as readonly LookField[];

const isKnown = (moment: Moment, field: LookField, item: string): boolean =>
  !['', 'unknown'].includes(textAnswer(moment, field, item));

/**
 * The looks that were said one by one and stand beside a description that is not whole. A whole one was answered by what it
 * names, and all else is absent.
 */
export function looksSaidAlone(moment: Moment, item: string): readonly string[] {
  if (!listAnswer(moment, 'features', item).includes('unknown')) return [];
  return lookFields.flatMap((field) => plainLooks[field].filter((one) => one === textAnswer(moment, field, item)));
}

/** Whether something of a lump's look is still not known. */
export function isLookOpen(moment: Moment, item: string): boolean {
  const ids = listAnswer(moment, 'features', item);
  if (!ids.includes('unknown')) return textAnswer(moment, 'margin', item) === 'unknown';
  return !lookFields.every((field) => isKnown(moment, field, item));
}
