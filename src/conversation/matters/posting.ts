/** The parcel: what may go, what the laboratory is told, when a receipt is due. */
import { answerOf, type Case, type Specimen } from '../../case/case.ts';
import { formatCode } from '../../case/code.ts';
import type { Interpreter } from '../interpret.ts';
import { topFrame } from '../interpret.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { laboratoryPeople } from '../people.ts';
import { durationOf, laboratoryOf } from '../programme.ts';
import { localTime } from '../schedule.ts';
import type { Turn } from '../turn.ts';
import { dayAt, textAnswer, zoneOf } from './common.ts';
import { caseByCode, codesIn } from './desk.ts';
import { seenText } from './findings-words.ts';

/** Specimens of a case that are fixed, labelled and not yet gone. */
export function readyToPost(of: Case): readonly Specimen[] {
  return of.specimens.filter((one) => one.end === null && one.labelledAt !== null && one.postedAt === null);
}

function words(moment: Moment, key: string, value = ''): string {
  return moment.world.texts.render(moment.person.locale, key, () => value);
}

/** `POST 4829 1354`, also several codes of one parcel. */
function post(turn: Turn, interpreter: Interpreter, rest: string): void {
  const person = interpreter.person;
  const { codes, wrong } = codesIn(rest);
  turn.disturbed = true;
  if (codes.length === 0) {
    const key = wrong.length > 0 ? 'desk.wrong-code' : 'posting.which-code';
    turn.say(person, key, { frame: null, caseId: null });
    return;
  }
  const gone: { of: Case; specimens: readonly Specimen[] }[] = [];
  for (const code of codes) {
    const of = caseByCode(turn, person, code);
    if (!of) {
      turn.say(person, 'desk.unknown-code', { frame: null, caseId: null, vars: { code: formatCode(code) } });
      continue;
    }
    turn.aboutCaseId = of.id;
    if (gone.some((one) => one.of.id === of.id)) continue;
    const item = of.specimens.find((one) => one.code === code)?.id ?? null;
    const ready = readyToPost(of);
    const refusal = of.practice
      ? 'posting.practice'
      : of.aftercare === null || of.frozen !== null
        ? 'posting.not-yet'
        : ready.length === 0
          ? 'posting.already'
          : null;
    if (refusal) {
      turn.say(person, refusal, { frame: null, caseId: of.id, item });
      continue;
    }
    const labId = laboratoryOf(turn.world.programme, of.siteId).id;
    turn.record(of.id, { type: 'posted', specimens: ready.map((one) => one.id), labId });
    gone.push({ of: turn.caseOf(of.id)!, specimens: ready });
    const thread = turn.threads.find((one) => one.caseId === of.id && topFrame(one)?.flow === 'posting');
    if (thread) interpreter.take(thread.id, 'parcel.gone');
  }
  if (gone.length > 0) tellOfParcel(turn, interpreter, gone);
}

function tellOfParcel(
  turn: Turn,
  interpreter: Interpreter,
  gone: readonly { readonly of: Case; readonly specimens: readonly Specimen[] }[],
): void {
  const person = interpreter.person;
  const all = gone.flatMap((one) => one.specimens);
  const slides = all.reduce((sum, one) => sum + slidesSent(one), 0);
  const first = gone[0]!;
  const many = turn.world.texts.render(person.locale, 'posting.many-cases', () => String(all.length));
  const one = turn.world.texts.render(person.locale, 'posting.one-case', () => '');
  turn.say(person, 'posting.posted', {
    frame: null,
    caseId: first.of.id,
    item: first.specimens[0]?.id ?? null,
    vars: { parcelCount: all.length === 1 ? one : many, slideCount: String(slides) },
  });
  const lab = laboratoryOf(turn.world.programme, first.of.siteId);
  for (const somebody of laboratoryPeople(turn.world, lab.id)) {
    for (const { of, specimens } of gone) {
      for (const specimen of specimens) {
        turn.post(
          somebody.id,
          { kind: 'tell', key: 'posting.request', caseId: of.id, item: specimen.id, vars: {}, lane: 'notice' },
          { caseId: of.id },
        );
      }
    }
    if (all.length < 2) continue;
    const list = all.map((each) => `${formatCode(each.code)} ${slidesSent(each)}`).join(', ');
    turn.post(
      somebody.id,
      {
        kind: 'tell',
        key: 'posting.manifest',
        caseId: first.of.id,
        item: null,
        vars: { parcelList: list },
        lane: 'notice',
      },
      { caseId: first.of.id },
    );
  }
}

/** Slides in the parcel: those that are not empty. */
export function slidesSent(of: Specimen): number {
  return of.slides.filter((one) => one !== 'empty').length;
}

/** Numbers of the slides that an attempt with blood filled: `1-2`, or ''. */
function bloodySlides(of: Specimen): string {
  return of.attempts
    .flatMap((outcome, index) => (outcome === 'blood' ? [`${index * 2 + 1}-${index * 2 + 2}`] : []))
    .join(', ');
}

/** Decade of age: enough for the laboratory, and no help to somebody who guesses the birth year on a slide. */
function ageGroup(moment: Moment): string {
  const born = answerOf(moment.case!, 'patient.birthYear');
  const said = answerOf(moment.case!, 'patient.ageYears');
  const years =
    typeof born === 'number'
      ? localTime(moment.now, zoneOf(moment)).year - born
      : typeof said === 'number'
        ? said
        : null;
  if (years === null) return words(moment, 'laboratory.decade-unknown');
  if (years < 20) return words(moment, 'laboratory.decade-child');
  return words(moment, 'laboratory.decade', String(Math.floor(years / 10) * 10));
}

export const posting: Matter = {
  commands: { POST: { roles: ['worker'], run: post } },
  decisions: {
    'may-post': { outcomes: ['yes', 'practice'], decide: (m) => (m.case!.practice ? 'practice' : 'yes') },
  },
  recorders: {
    'close-practice': () => [record({ type: 'closed', outcome: 'practised' })],
  },
  values: {
    packing: {
      of: (m) => words(m, `posting.pack-${m.case?.specimens.find((one) => one.fixative)?.fixative ?? 'alcohol'}`),
      sample: 'Jar in bag + paper towel',
    },
    marking: {
      of: (m) => {
        const text = laboratoryOf(m.world.programme, m.case!.siteId).marking;
        return text.charAt(0).toUpperCase() + text.slice(1);
      },
      sample: 'Mark as your carrier told you',
    },
    parcelCount: { of: (m) => String(m.frame.vars.parcelCount ?? ''), sample: '1 specimen' },
    slideCount: { of: (m) => String(m.frame.vars.slideCount ?? ''), sample: '4' },
    parcelList: { of: (m) => String(m.frame.vars.parcelList ?? ''), sample: '4829 1354 4' },
    receiptDay: {
      of: (m) => dayAt(m, m.now + durationOf(m.world.programme, 'receipt')),
      sample: '19 MAR',
    },
    postedDay: { of: (m) => (m.specimen?.postedAt ? dayAt(m, m.specimen.postedAt) : ''), sample: '12 MAR' },
    ageGroup: { of: ageGroup, sample: '40s' },
    insideWord: {
      of: (m) =>
        m.world.texts.label(m.person.locale, 'composition', textAnswer(m, 'composition', m.specimen?.nodule ?? null)),
      sample: 'solid',
    },
    seenWords: { of: (m) => (m.specimen ? seenText(m, m.specimen.nodule) : ''), sample: 'dark, jagged, tiny dots' },
    tshWord: { of: (m) => m.world.texts.label(m.person.locale, 'tsh', textAnswer(m, 'tsh')), sample: 'normal' },
    slideTotal: { of: (m) => String(m.specimen ? slidesSent(m.specimen) : 0), sample: '4' },
    slideList: {
      of: (m) => {
        if (!m.specimen) return '';
        const how = words(m, `posting.how-${m.specimen.fixative ?? 'alcohol'}`);
        const dried = m.specimen.slides.filter((one) => one === 'dried').length;
        const late = m.specimen.slides.filter((one) => one === 'late').length;
        const notes = [dried > 0 ? `${dried} dried` : '', late > 0 ? `${late} late` : ''].filter((one) => one !== '');
        const extra = notes.length > 0 && m.specimen.fixative !== 'air-dried' ? ` (${notes.join(', ')})` : '';
        return `${slidesSent(m.specimen)} ${words(m, 'posting.slides')} ${how}${extra}`;
      },
      sample: '4 slides ALCOHOL',
    },
    techniqueWord: { of: (m) => words(m, `posting.tech-${m.specimen?.technique ?? 'capillary'}`), sample: 'capillary' },
    bloody: {
      of: (m) => {
        const slides = m.specimen ? bloodySlides(m.specimen) : '';
        return slides === '' ? '' : words(m, 'posting.bloody', slides);
      },
      sample: ', 1-2 bloody',
    },
  },
};
