/** Findings as short words, for the read-back and for the doctor. */

import { answerOf } from '../../case/case.ts';
import { earlierOf } from '../../case/earlier.ts';
import { growthRule } from '../../clinical/growth.ts';
import { growthBetween } from '../../clinical/nodule.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { dayYearWords } from '../../text/time-words.ts';
import type { Moment } from '../moment.ts';
import { parseDay } from '../schedule.ts';
import { listAnswer, sizeOf, textAnswer, twoSizesOf } from './common.ts';
import { isLookOpen, looksSaidAlone } from './described-looks.ts';

/** The words of an option in the reader's language; '' for no option. */
export function label(moment: Moment, field: string, id: string): string {
  if (id === '') return '';
  return moment.world.texts.label(moment.person.locale, field, id);
}

function saidAs(moment: Moment, key: TextKey, value: string): string {
  return moment.world.texts.render(moment.person.locale, key, () => value);
}

/** ` P20w`, ` P`, or nothing. */
export function pregnancyText(moment: Moment): string {
  if (textAnswer(moment, 'patient.pregnant') !== 'yes') return '';
  const weeks = textAnswer(moment, 'patient.pregnantWeeks');
  const key = weeks === '' || weeks === 'unknown' ? 'new.pregnant-short' : 'new.pregnant-short-weeks';
  return ` ${saidAs(moment, key, weeks)}`;
}

/** Side and size of a nodule: `R 22x15x14`. */
export function noduleText(moment: Moment, id: string): string {
  const side = label(moment, 'sideShort', textAnswer(moment, 'site', id));
  const range = moment.case ? answerOf(moment.case, 'mmRange', id) : null;
  const mm = sizeOf(moment, id);
  const size = Array.isArray(range) ? range.join('-') : (mm.length > 0 ? mm : twoSizesOf(moment, id)).join('x');
  return `${side} ${size}`;
}

/** Growth against the earlier examination, where there was one: never silent about what cannot be compared. */
export function growthText(moment: Moment, id: string): string {
  const of = moment.case;
  if (!of || of.earlierCaseId === null) return '';
  const before = earlierOf(of, id);
  const growth = growthBetween(before?.mm ?? [], sizeOf(moment, id), growthRule(moment.world.programme.policy));
  const day = before && parseDay(before.on);
  const since = day ? `${dayYearWords(day, moment.world.texts.months(moment.person.locale))}` : '';
  const was = before ? `${before.mm.join('x')} ${since}` : '';
  return saidAs(moment, `new.growth-${growth}`, was);
}

/** Side, size and growth of a nodule. */
export function noduleWithGrowth(moment: Moment, id: string): string {
  return [noduleText(moment, id), growthText(moment, id)].filter((one) => one !== '').join(' ');
}

/** What was named; `none` only where all of it could be seen, else that the rest is not known. */
function namedWords(
  moment: Moment,
  field: string,
  ids: readonly string[],
  open: boolean,
  beside: readonly string[] = [],
): string {
  const chosen = ids.filter((id) => id !== 'none' && id !== 'unknown').map((id) => label(moment, field, id));
  const named = [...chosen, ...beside];
  if (!open) return named.length > 0 ? named.join(', ') : label(moment, field, 'none');
  return [...named, label(moment, field, 'unknown')].join(', ');
}

/** Echo, shape, margin and capsule of a nodule in words; '' where nobody was asked. */
export function looksText(moment: Moment, id: string): string {
  const ids = listAnswer(moment, 'features', id);
  const alone = looksSaidAlone(moment, id).map((one) => label(moment, 'plain-looks', one));
  return ids.length === 0 ? '' : namedWords(moment, 'features', ids, isLookOpen(moment, id), alone);
}

/** What shines in a nodule, in words; '' where nobody was asked. */
export function brightText(moment: Moment, id: string): string {
  const of = moment.case;
  const asked = of && Array.isArray(answerOf(of, 'foci', id));
  const foci = listAnswer(moment, 'foci', id);
  return asked ? namedWords(moment, 'foci', foci, foci.includes('unknown')) : '';
}

/** How a nodule looks and what shines in it, for whoever reads the whole case: what is not known is said once, at the end. */
export function seenText(moment: Moment, id: string): string {
  const none = label(moment, 'features', 'none');
  const rest = label(moment, 'features', 'unknown');
  const asked = [looksText(moment, id), brightText(moment, id)].filter((one) => one !== '');
  const all = asked.flatMap((one) => one.split(', '));
  const named = [...new Set(all)].filter((one) => one !== none && one !== rest);
  if (all.includes(rest)) return [...named, rest].join(', ');
  if (named.length > 0 || asked.length === 0) return named.join(', ');
  // Nothing to worry about is said only where both were looked for.
  return asked.length === 2 ? saidAs(moment, 'gaps.looks-none', '') : rest;
}

/** Blood thinners and bleeding disorders that were said, each with the number that goes with it. */
export function bleedingWords(moment: Moment): readonly string[] {
  const numbers: Readonly<
    Record<
      string,
      { readonly field: 'inr' | 'platelets' | 'ivAntiplateletHours'; readonly key: TextKey; readonly open: TextKey }
    >
  > = {
    warfarin: { field: 'inr', key: 'new.inr-is', open: 'new.inr-not-known' },
    heparin: { field: 'platelets', key: 'new.platelets-are', open: 'new.platelets-not-known' },
    'iv-antiplatelet': { field: 'ivAntiplateletHours', key: 'new.drip-ended', open: 'new.drip-not-known' },
  };
  const said = listAnswer(moment, 'bleeding').filter((id) => id !== 'unknown');
  // Which one is not known yet: a thinner all the same.
  const other = moment.case && answerOf(moment.case, 'otherThinner') === true;
  const unnamed = other && said.every((id) => id === 'warfarin' || id === 'bleeding-disorder');
  const names = said.map((id) => {
    const name = label(moment, 'bleeding', id);
    const number = numbers[id];
    const value = number ? textAnswer(moment, number.field) : '';
    if (!number || value === '') return name;
    const key = value === 'unknown' ? number.open : number.key;
    return `${name} ${saidAs(moment, key, value)}`;
  });
  // A number whose medicine nobody named is read back all the same.
  const alone = Object.entries(numbers).flatMap(([id, { field, key }]) => {
    const value = textAnswer(moment, field);
    return said.some((one) => one === id) || value === '' || value === 'unknown' ? [] : [saidAs(moment, key, value)];
  });
  return [...names, ...(unnamed ? [label(moment, 'bleeding', 'other-thinner')] : []), ...alone];
}
