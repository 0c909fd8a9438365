/** The story of a sample for the laboratory: without it a cytologist misses the rare ones. Nothing unknown is told as absent. */
import { answerOf } from '../../case/case.ts';
import { noduleOf } from '../../case/target.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Moment } from '../moment.ts';
import { dayIn } from './case-words.ts';
import { listAnswer, textAnswer } from './common.ts';
import { bleedingWords, growthText } from './findings-words.ts';

function said(moment: Moment, key: KeyIn<'posting'>, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `posting.${key}`, () => value);
}

function labels(moment: Moment, field: 'dangerSigns' | 'risks'): readonly string[] {
  const known = listAnswer(moment, field).filter((id) => id !== 'unknown');
  return known.map((id) => moment.world.texts.label(moment.person.locale, field, id));
}

function pregnancy(moment: Moment): string {
  if (textAnswer(moment, 'patient.pregnant') !== 'yes') return '';
  const weeks = textAnswer(moment, 'patient.pregnantWeeks');
  return weeks === '' || weeks === 'unknown' ? said(moment, 'story-pregnant') : said(moment, 'story-weeks', weeks);
}

function earlierResults(moment: Moment): string {
  const earlier = moment.case ? (answerOf(moment.case, 'earlier') ?? []) : [];
  const results = earlier.map(({ side, canonical, on }) => {
    const where = side === null ? '' : ` ${moment.world.texts.label(moment.person.locale, 'side', side)}`;
    return `${canonical}${where}${on === undefined ? '' : ` ${dayIn(moment, on)}`}`;
  });
  return results.length === 0 ? '' : said(moment, 'story-earlier', results.join(', '));
}

/** What nobody asked or nobody could tell. */
function unknowns(moment: Moment): readonly string[] {
  const open = (field: 'dangerSigns' | 'risks' | 'bleeding'): boolean =>
    !Array.isArray(moment.case ? answerOf(moment.case, field) : undefined) ||
    (listAnswer(moment, field) as readonly string[]).includes('unknown');
  const fields = [
    ['dangerSigns', 'story-signs'],
    ['risks', 'story-risks'],
    ['bleeding', 'story-bleeding'],
  ] as const;
  const pregnant = textAnswer(moment, 'patient.pregnant') === 'unknown' ? [said(moment, 'story-pregnancy')] : [];
  return [...fields.filter(([field]) => open(field)).map(([, key]) => said(moment, key)), ...pregnant];
}

/** Danger signs, risks, pregnancy, growth, thinners, earlier results, and what is not known; '' when there is nothing of it. */
export function storyText(moment: Moment): string {
  if (!moment.case) return '';
  const nodule = moment.specimen ? noduleOf(moment.specimen.target) : null;
  const parts = [
    labels(moment, 'dangerSigns').join(', '),
    labels(moment, 'risks').join(', '),
    pregnancy(moment),
    nodule === null ? '' : growthText(moment, nodule),
    bleedingWords(moment).join(', '),
    earlierResults(moment),
    listAnswer(moment, 'dangerSigns').includes('rapid-growth') ? said(moment, 'story-unstained') : '',
  ].filter((one) => one !== '');
  const open = unknowns(moment);
  if (open.length > 0) parts.push(said(moment, 'story-not-known', open.join(', ')));
  return parts.join('; ');
}
