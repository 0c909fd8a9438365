/** What is said of a result that replaces another one: what it was, and what this doctor answered to it. */
import type { Specimen } from '../../case/case.ts';
import type { Matter, Moment } from '../moment.ts';
import { codeText, dayAt } from './common.ts';
import { resultQuestions } from './filing.ts';

function note(moment: Moment, key: 'doctor.amended-note' | 'doctor.own-answer' | 'action.amended-note'): string {
  const shown: Readonly<Record<string, () => string>> = {
    wasBefore: () => wasBefore(moment),
    ownAnswer: () => ownAnswer(moment),
    answer: () => answered(moment),
    tag: () => moment.case?.tag ?? '',
    code: () => codeText(moment.specimen),
  };
  return moment.world.texts.render(moment.person.locale, key, (name) => shown[name]?.() ?? '');
}

/** The result before the one that counts now; null where there is none. */
function before({ results }: Specimen) {
  return results.at(-2) ?? null;
}

/** ` (Thy2, 16 MAR)`: for doctors alone, since a worker's text never holds a bare category. */
function wasBefore(moment: Moment): string {
  const was = moment.specimen ? before(moment.specimen) : null;
  if (!was) return '';
  const { texts } = moment.world;
  return texts.render(moment.person.locale, 'doctor.was-before', () => `${was.result.code}, ${dayAt(moment, was.at)}`);
}

/** The choice that this doctor made about the result before, and their words; '' where they made none. */
function answered(moment: Moment): string {
  const was = moment.specimen ? before(moment.specimen) : null;
  if (!moment.case || !was) return '';
  // Which lump a question was about is kept with the question alone: with two results it must be at hand.
  const several = moment.case.specimens.filter((one) => one.results.length > 0).length > 1;
  const about = new Map<string, string>();
  let said = '';
  for (const { at, by, event } of moment.case.milestones) {
    if (at < was.at) continue;
    if (event.type === 'doctor-asked' && resultQuestions.has(event.about)) about.set(event.question, event.about);
    if (event.type !== 'doctor-answered' || by !== moment.person.id) continue;
    const asked = about.get(event.question);
    const item = moment.questions.find((one) => one.id === event.question)?.item;
    if (asked === undefined || ((item !== undefined || several) && item !== moment.specimen?.id)) continue;
    const choice = event.answer === 'words' ? '' : moment.world.texts.label(moment.person.locale, asked, event.answer);
    said = [choice, event.words].filter((one) => one !== '').join(': ');
  }
  return said;
}

function ownAnswer(moment: Moment): string {
  return answered(moment) === '' ? '' : note(moment, 'doctor.own-answer');
}

function amended(moment: Moment): string {
  if (!moment.specimen || !before(moment.specimen)) return '';
  const { roles } = moment.person;
  const isDoctor = roles.includes('doctor') && !roles.includes('worker');
  return note(moment, isDoctor ? 'doctor.amended-note' : 'action.amended-note');
}

export const amendedWords: NonNullable<Matter['values']> = {
  amended: { of: amended, sample: '' },
  wasBefore: { of: wasBefore, sample: ' (Thy2, 16 MAR)' },
  ownAnswer: { of: ownAnswer, sample: '' },
};
