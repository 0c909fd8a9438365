/** What was never asked of a patient, and what was asked and is not known: never the same as absent. */
import type { CaseField } from '../../case/answers.ts';
import { type AskedPart, answerToPart, partNames } from '../../case/asked-parts.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { nodulesOf, signQuestions, truth } from '../../case/findings-of.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Moment } from '../moment.ts';
import { listAnswer, textAnswer } from './common.ts';
import { looksSaidAlone } from './described-looks.ts';

/** Questions that a doctor must know of when nobody has put them, in the order of the gates. */
const subjects = [
  'signs',
  'family',
  'bleeding',
  'examination',
  'tsh',
  'overactive',
  'scan',
  'ultrasound',
  'sizes',
] as const;
type Subject = (typeof subjects)[number];

/** Whether anything was answered to this field, be it `unknown`. */
export function isSaid(of: Case, field: CaseField): boolean {
  const value = of.answers[field];
  return value !== undefined && value !== null;
}

/** Whether all these questions were put; a case from before they were split has one answer to all of them. */
function partsAsked(of: Case, parts: readonly AskedPart[], field: CaseField): boolean {
  if (partNames.every((one) => answerToPart(of, one) === null)) return isSaid(of, field);
  return parts.every((one) => answerToPart(of, one) !== null);
}

type OfTsh = 'overactive' | 'pregnant' | 'pregnant-weeks' | 'scan';

/** What a TSH that is low, or not to be had, still has to be asked; null where nothing is, or TSH was not asked itself. */
export function nextOfTsh(of: Case): OfTsh | null {
  const tsh = answerOf(of, 'tsh');
  if (tsh === 'unknown' && !isSaid(of, 'overactiveSigns')) return 'overactive';
  if (tsh !== 'low' && !(tsh === 'unknown' && truth(answerOf(of, 'overactiveSigns')) === true)) return null;
  if (answerOf(of, 'patient.sex') === 'female' && !isSaid(of, 'patient.pregnant')) return 'pregnant';
  const pregnant = answerOf(of, 'patient.pregnant') === 'yes';
  if (pregnant) return isSaid(of, 'patient.pregnantWeeks') ? null : 'pregnant-weeks';
  return isSaid(of, 'scan') ? null : 'scan';
}

/** In pregnancy there is no scan, so that it is asked first. */
const scanQuestions: ReadonlySet<OfTsh | null> = new Set(['pregnant', 'pregnant-weeks', 'scan']);

const wasAsked: Readonly<Record<Subject, (of: Case) => boolean>> = {
  signs: (of) => partsAsked(of, signQuestions, 'dangerSigns'),
  family: (of) => partsAsked(of, ['family'], 'risks'),
  bleeding: (of) => partsAsked(of, ['bleeding'], 'bleeding'),
  examination: (of) => isSaid(of, 'examined'),
  tsh: (of) => isSaid(of, 'tsh'),
  overactive: (of) => nextOfTsh(of) !== 'overactive',
  scan: (of) => !scanQuestions.has(nextOfTsh(of)),
  ultrasound: (of) => isSaid(of, 'ultrasound.done'),
  sizes: (of) => answerOf(of, 'ultrasound.done') !== true || isSaid(of, 'nodules'),
};

/** Subjects that nobody has asked about. */
export function neverAsked(of: Case): readonly Subject[] {
  return subjects.filter((one) => !wasAsked[one](of));
}

/** True: it was looked for and nothing of it could be told. */
export function isUnseen(moment: Moment, field: 'features' | 'foci', nodule: string): boolean {
  const seen = listAnswer(moment, field, nodule);
  if (field === 'features' && looksSaidAlone(moment, nodule).length > 0) return false;
  return seen.length > 0 && seen.every((one) => one === 'unknown');
}

/** True: of all that was asked about bleeding nothing is open but which thinner it is. */
function isOnlyUnnamed({ case: of }: Moment): boolean {
  return (
    of !== null && answerOf(of, 'otherThinner') === true && answerToPart(of, 'bleeding')?.includes('unknown') !== true
  );
}

/** Subjects that were asked and whose answer was "cannot tell". */
function notKnown(moment: Moment): readonly KeyIn<'gaps'>[] {
  const open: KeyIn<'gaps'>[] = [];
  if (listAnswer(moment, 'dangerSigns').includes('unknown')) open.push('signs');
  if (listAnswer(moment, 'risks').includes('unknown')) open.push('family');
  if (listAnswer(moment, 'bleeding').includes('unknown')) open.push(isOnlyUnnamed(moment) ? 'thinner' : 'bleeding');
  if (textAnswer(moment, 'inr') === 'unknown') open.push('inr');
  if (textAnswer(moment, 'tsh') === 'unknown') open.push('tsh');
  if (textAnswer(moment, 'patient.pregnant') === 'unknown') open.push('pregnancy');
  const lumps = moment.case ? nodulesOf(moment.case) : [];
  if (lumps.some((id) => isUnseen(moment, 'features', id))) open.push('looks');
  if (lumps.some((id) => isUnseen(moment, 'foci', id))) open.push('bright');
  return open;
}

/** Steps that were asked about and are not done. */
function notDone(of: Case): readonly KeyIn<'gaps'>[] {
  const undone: KeyIn<'gaps'>[] = [];
  if (answerOf(of, 'examined') === false) undone.push('examination');
  if (answerOf(of, 'ultrasound.done') === false) undone.push('ultrasound');
  return undone;
}

function listed(
  moment: Moment,
  key: 'not-asked' | 'not-known' | 'not-done',
  subjectsOpen: readonly KeyIn<'gaps'>[],
): string {
  const { texts } = moment.world;
  const names = subjectsOpen.map((one) => texts.render(moment.person.locale, `gaps.${one}`, () => ''));
  return names.length === 0 ? '' : texts.render(moment.person.locale, `gaps.${key}`, () => names.join(', '));
}

/** ` NOT ASKED: bleeding, TSH.`, or nothing. */
export function notAskedText(moment: Moment): string {
  return moment.case ? listed(moment, 'not-asked', neverAsked(moment.case)) : '';
}

/** ` NOT DONE: ultrasound. NOT KNOWN: family.`, or nothing. */
export function notKnownText(moment: Moment): string {
  if (!moment.case) return '';
  return `${listed(moment, 'not-done', notDone(moment.case))}${listed(moment, 'not-known', notKnown(moment))}`;
}
