/** The whole case in short, for a doctor who knows nothing of it. */
import { answerOf } from '../../case/case.ts';
import { nodulesOf } from '../../case/findings-of.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Moment } from '../moment.ts';
import { ageText, aimHere, codeText, listAnswer, noduleId, textAnswer } from './common.ts';
import { decidedOf } from './decided.ts';
import { policiesBrief, policiesText } from './decision-words.ts';
import {
  bleedingWords,
  noduleText as measuredText,
  noduleWithGrowth,
  pregnancyText,
  seenText,
} from './findings-words.ts';
import { perhapsText } from './same-patient.ts';
import { targetText } from './target.ts';

function label(moment: Moment, field: string, id: string): string {
  return id === '' ? '' : moment.world.texts.label(moment.person.locale, field, id);
}

function words(moment: Moment, key: KeyIn<'gaps'>): string {
  return moment.world.texts.render(moment.person.locale, `gaps.${key}`, () => '');
}

/** Who, which lump, what was seen, what every policy says; '' without a case. Only what was asked is said. */
export function summaryText(moment: Moment): string {
  if (!moment.case) return '';
  return [whoText(moment), ...findingsParts(moment, policiesText)].join('; ');
}

/** Tag, sex, age, pregnancy and code: `AK F 1982 P20w 4829 1354`. */
export function whoText(moment: Moment): string {
  const of = moment.case;
  if (!of) return '';
  const specimen = moment.specimen ?? of.specimens[0] ?? null;
  const who = [
    of.tag,
    label(moment, 'sexShort', textAnswer(moment, 'patient.sex')),
    `${ageText(moment)}${pregnancyText(moment)}`,
    codeText(specimen),
  ];
  return who.filter((one) => one !== '').join(' ');
}

/** The same with a result: policies that say the same are said at once, and where it was felt is old. */
export function foundBrief(moment: Moment): string {
  return moment.case ? findingsParts(moment, policiesBrief).join('; ') : '';
}

/** What was found and what every policy makes of it, without who it is. */
function foundText(moment: Moment): string {
  if (!moment.case) return '';
  const parts = [feltText(moment), ...findingsParts(moment, policiesText)].filter((one) => one !== '');
  return parts.length === 0 ? words(moment, 'nothing') : parts.join('; ');
}

/** ` Seen: felt R; R 22x15x14 solid dark; TSH normal; Plain rule sample.`; '' without a case. */
export function foundHere(moment: Moment): string {
  if (!moment.case) return '';
  return moment.world.texts.render(moment.person.locale, 'doctor.seen', () => foundText(moment));
}

function findingsParts(moment: Moment, policies: typeof policiesText): readonly string[] {
  const of = moment.case!;
  const specimen = moment.specimen ?? of.specimens[0] ?? null;
  const parts: string[] = [perhapsText(moment)];
  const signs = [...listAnswer(moment, 'dangerSigns'), ...listAnswer(moment, 'lump')].filter((id) => id !== 'unknown');
  parts.push(signs.map((id) => label(moment, 'dangerSigns', id)).join(', '));
  const risks = listAnswer(moment, 'risks').filter((id) => id !== 'unknown');
  parts.push(risks.map((id) => label(moment, 'risks', id)).join(', '));
  parts.push(bleedingWords(moment).join(', '));
  const about = noduleId(moment);
  const ids = nodulesOf(of).filter((id) => about === null || !specimen || id === about);
  parts.push(...ids.map((id) => noduleText(moment, id)));
  const aim = aimHere(moment);
  if (ids.length === 0 && aim !== null) parts.push(targetText(moment, aim));
  if (answerOf(of, 'ultrasound.done') === true && textAnswer(moment, 'ultrasound.probe') !== 'linear') {
    parts.push(words(moment, 'weak-probe'));
  }
  const tsh = answerOf(of, 'tsh');
  if (typeof tsh === 'string') {
    const { texts } = moment.world;
    parts.push(texts.render(moment.person.locale, 'new.tsh-is', () => label(moment, 'tsh', tsh)));
  }
  parts.push(...policiesParts(moment, ids, policies));
  return parts.filter((one) => one !== '');
}

/**
 * What the policies say of the lump that is shown; of several, of each that a needle is proposed for, else of each, by its
 * side and size.
 */
function policiesParts(moment: Moment, ids: readonly string[], policies: typeof policiesText): readonly string[] {
  const decided = decidedOf(moment);
  const weighed = (decided?.nodules ?? []).filter((one) => ids.includes(one.id));
  if (ids.length < 2) return weighed.map((one) => policies(moment, one));
  const proposed = new Set(decided?.proposed.map((one) => one.nodule));
  const chosen = weighed.filter((one) => proposed.has(one.id));
  return (chosen.length > 0 ? chosen : weighed).map(
    (one) => `${measuredText(moment, one.id)}: ${policies(moment, one)}`,
  );
}

/** Where a lump was felt; '' where nobody has examined, or said what was felt. */
function feltText(moment: Moment): string {
  if (answerOf(moment.case!, 'examined') !== true || !Array.isArray(answerOf(moment.case!, 'felt'))) return '';
  const sides = listAnswer(moment, 'felt').map((id) => label(moment, 'sideShort', id));
  const { texts } = moment.world;
  if (sides.length === 0) return words(moment, 'felt-none');
  return texts.render(moment.person.locale, 'gaps.felt', () => sides.join(', '));
}

/** Side, size, inside and looks. */
function noduleText(moment: Moment, id: string): string {
  const inside = label(moment, 'composition', textAnswer(moment, 'composition', id));
  return [noduleWithGrowth(moment, id), inside, seenText(moment, id)].filter((one) => one !== '').join(' ');
}
