/** Findings as short words, for the read-back and for the doctor. */

import type { CaseField } from '../../case/answers.ts';
import { answerOf } from '../../case/case.ts';
import { earlierOf } from '../../case/earlier.ts';
import { nodulesOf, truth } from '../../case/findings-of.ts';
import { growthRule } from '../../clinical/growth.ts';
import { growthBetween } from '../../clinical/nodule.ts';
import type { OptionId } from '../../generated/option-ids.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import type { Moment } from '../moment.ts';
import { parseDay } from '../schedule.ts';
import { dayWords, listAnswer, sizeOf, textAnswer, twoSizesOf } from './common.ts';

function label(moment: Moment, field: string, id: string): string {
  return moment.world.texts.label(moment.person.locale, field, id);
}

function said(moment: Moment, key: TextKey, value: string): string {
  return moment.world.texts.render(moment.person.locale, key, () => value);
}

function words(moment: Moment, field: string, ids: readonly string[]): string {
  return ids.map((id) => label(moment, field, id)).join(', ');
}

/** ` P20w`, ` P`, or nothing. */
export function pregnancyText(moment: Moment): string {
  if (textAnswer(moment, 'patient.pregnant') !== 'yes') return '';
  const weeks = textAnswer(moment, 'patient.pregnantWeeks');
  const key = weeks === '' || weeks === 'unknown' ? 'new.pregnant-short' : 'new.pregnant-short-weeks';
  return ` ${said(moment, key, weeks)}`;
}

/** Side and size of a nodule: `R 22x15x14`. */
function noduleText(moment: Moment, id: string): string {
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
  const since = day ? `${dayWords(day, moment.world.texts.months(moment.person.locale))} ${day.year}` : '';
  const was = before ? `${before.mm.join('x')} ${since}` : '';
  return said(moment, `new.growth-${growth}`, was);
}

/** Side, size and growth of a nodule. */
export function noduleWithGrowth(moment: Moment, id: string): string {
  return [noduleText(moment, id), growthText(moment, id)].filter((one) => one !== '').join(' ');
}

/** Features of a nodule in words; what could not be seen is said as such. */
export function seenText(moment: Moment, id: string): string {
  return words(moment, 'features', listAnswer(moment, 'features', id));
}

/** Blood thinners and bleeding disorders that were said, each with the number that goes with it. */
export function bleedingWords(moment: Moment): readonly string[] {
  const numbers: Readonly<
    Record<string, { readonly field: 'inr' | 'platelets' | 'ivAntiplateletHours'; readonly key: TextKey }>
  > = {
    warfarin: { field: 'inr', key: 'new.inr-is' },
    heparin: { field: 'platelets', key: 'new.platelets-are' },
    'iv-antiplatelet': { field: 'ivAntiplateletHours', key: 'new.drip-ended' },
  };
  return listAnswer(moment, 'bleeding')
    .filter((id) => id !== 'unknown')
    .map((id) => {
      const name = label(moment, id === 'warfarin' || id === 'bleeding-disorder' ? 'risks' : 'bleeding', id);
      const number = numbers[id];
      const value = number ? textAnswer(moment, number.field) : '';
      if (!number || value === '') return name;
      const key = value === 'unknown' ? 'new.number-not-known' : number.key;
      return `${name} ${said(moment, key, value)}`;
    });
}

/** Lines of the read-back: what can be asked again. */
type CheckedName = Exclude<OptionId<'findings-check'>, 'yes' | 'patient'>;

/** The numbered list of the read-back: only what was asked. */
export function checkList(moment: Moment): string {
  const of = moment.case;
  if (!of) return '';
  const asked = (field: CaseField): boolean => answerOf(of, field) !== undefined && answerOf(of, field) !== null;
  const parts: string[] = [];
  const add = (name: CheckedName, shown: string): void => {
    parts.push(said(moment, `new.check-${name}`, shown));
  };
  const none = label(moment, 'risks', 'none');
  const signs = listAnswer(moment, 'dangerSigns');
  add('signs', signs.length === 0 ? none : words(moment, 'dangerSigns', signs));
  if (asked('risks')) {
    const risks = listAnswer(moment, 'risks');
    const all = [...risks.map((id) => label(moment, 'risks', id)), ...bleedingWords(moment)];
    add('risks', all.length === 0 ? none : all.join(', '));
  }
  if (asked('examined')) {
    const felt = listAnswer(moment, 'felt').map((id) => label(moment, 'sideShort', id));
    const examined = answerOf(of, 'examined') === true;
    const text = examined
      ? felt.join('+') || label(moment, 'examined', 'not-felt')
      : label(moment, 'examined', 'not-examined');
    add('felt', text);
  }
  if (asked('tsh')) {
    const scan = textAnswer(moment, 'scan');
    const tsh = label(moment, 'tsh', textAnswer(moment, 'tsh'));
    add('tsh', scan === '' ? tsh : `${tsh}, ${label(moment, 'scan', scan)}`);
  }
  if (asked('ultrasound.done')) {
    const probe = textAnswer(moment, 'ultrasound.probe');
    const pad = truth(answerOf(of, 'ultrasound.standoff'));
    const here = textAnswer(moment, 'ultrasound.here');
    const id =
      answerOf(of, 'ultrasound.done') === true
        ? probe === 'linear'
          ? 'linear'
          : pad === true
            ? 'other-with-pad'
            : 'other-without-pad'
        : here === 'yes'
          ? 'not-done-yet'
          : 'no-ultrasound';
    add('ultrasound', label(moment, 'ultrasound.done', id));
  }
  const ids = nodulesOf(of);
  if (asked('nodules')) add('sizes', ids.map((id) => noduleWithGrowth(moment, id)).join(' ') || none);
  const inside = ids.map((id) => textAnswer(moment, 'composition', id)).filter((one) => one !== '');
  if (inside.length > 0) add('inside', words(moment, 'composition', inside));
  const seen = ids.map((id) => seenText(moment, id)).filter((one) => one !== '');
  if (seen.length > 0) add('seen', seen.join(' / '));
  return parts.join(' ');
}
