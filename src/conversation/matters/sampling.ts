/** Attempts, and what became of the slides. */
import { answeredOf } from '../../case/answers.ts';
import type { Specimen } from '../../case/case.ts';
import { fluidsSent } from '../../case/parcel.ts';
import { slideStates } from '../../clinical/fixation.ts';
import { type AttemptReport, afterAttempt, attemptOutcomes, attemptReports, PASSES } from '../../clinical/sampling.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readPerSlide } from '../answers/per-slide.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type Matter, type Moment, type Reader, record } from '../moment.ts';
import { carrier } from '../people.ts';
import { limitOf } from '../programme.ts';
import type { Question } from '../state.ts';
import { isStale } from './another-day.ts';
import { attemptsAllowed, nextNumber, slidesFilled, slidesInUse } from './attempts.ts';
import { closeQuestion } from './close-question.ts';
import { isOnlyDrained } from './drainage.ts';
import { optionsOf } from './findings-readers.ts';
import { fixativeNow, slidesWorth, stainFor } from './fixing.ts';
import { fluidUnasked } from './fluid.ts';
import { alarmToday } from './hindrances.ts';
import { letterOf, typedLetters } from './places.ts';
import { samplingWords } from './sampling-words.ts';

function afterLast(moment: Moment): string {
  const specimen = moment.specimen!;
  const made = specimen.attempts.length;
  const outcome = specimen.attempts.at(-1) ?? 'too-little';
  const allowed = attemptsAllowed(moment, specimen);
  if (fluidUnasked(specimen) !== null) return 'fluid-unasked';
  const next = afterAttempt({
    attempt: made,
    outcome,
    policyLimit: limitOf(moment.world.programme, 'passes'),
    slidesLeft: Math.max(0, specimen.slidesPlanned - slidesFilled(specimen)),
    needlesLeft: Math.max(0, allowed - made),
  });
  switch (next.next) {
    case 'done':
      return 'material';
    case 'stop':
      return 'unwell';
    case 'ask-doctor':
      if (made >= PASSES.most) return 'limit-most';
      return isStale(moment) ? 'day-over' : 'limit';
    case 'again':
      if (isStale(moment)) return 'day-over';
      if (alarmToday(moment)) return 'limit';
      return outcome === 'blood' || outcome === 'fluid' ? outcome : 'too-little';
  }
}

function slidesDecision(moment: Moment, specimen = moment.specimen!): string {
  const { overall } = slidesWorth(moment, specimen);
  const stain = stainFor(moment, specimen);
  if (overall === 'all-dried') return stain === 'wet' ? 'all-dried' : 'usable';
  if (overall !== 'usable') return fluidsSent(specimen).length > 0 ? 'fluid-alone' : 'none';
  if (stain === 'wet' && specimen.slides.includes('dried')) return 'some-dried';
  return specimen.slides.includes('late') ? 'late' : 'usable';
}

/** Nothing follows these in one report: no further needle, or none at all. */
const lastOfReport: ReadonlySet<AttemptReport> = new Set(['material', 'unwell', 'not-done']);

/**
 * One outcome by its numbered digits or its word, or several attempts at once in their order: `12 21`. Where a sitting has
 * several specimens the letter stands in front (`R12 R21`), and without it nothing is read.
 */
const readAttempts: Reader = (text, m) => {
  const letter = letterOf(m, m.specimen!).toUpperCase();
  const typed = typedLetters(m, m.specimen!);
  const plain = tidy(text).replace(/(\p{L}+)\s*(?=\d)/gu, (all, run) =>
    typed.includes(run.toUpperCase()) ? letter : all,
  );
  const one = readChoice(plain, optionsOf(m));
  if (one.ok) return reported([one.value as AttemptReport]);
  let rest = plain.replace(/[\s,.;/+-]+/g, '').toUpperCase();
  const said: AttemptReport[] = [];
  while (rest !== '') {
    const last = said.at(-1);
    if (last && lastOfReport.has(last)) return unreadable('not-an-option');
    if (rest.startsWith(letter)) rest = rest.slice(letter.length);
    else if (said.length === 0) return one;
    const number = String(nextNumber(m) + said.length);
    const outcome = rest.startsWith(number) ? attemptReports[Number(rest[number.length] ?? 'x') - 1] : undefined;
    if (!outcome) return /\d\d.*\d\d/.test(rest) || said.length > 0 ? unreadable('not-an-option') : one;
    said.push(outcome);
    rest = rest.slice(number.length + 1);
  }
  if (said.length === 0) return one;
  const made = m.specimen!.attempts.length;
  const needles = said.filter((each) => each !== 'not-done').length;
  if (made + needles > Math.max(attemptsAllowed(m, m.specimen!), made + 1)) return unreadable('out-of-range');
  return reported(said);
};

function reported(said: readonly AttemptReport[]): ReturnType<Reader> {
  const outcome = said.at(-1) === 'not-done' ? 'not-done' : 'answered';
  return { ok: true, value: { value: said, outcome } };
}

/** One digit a slide, as many as there are slides. */
const readSlides: Reader = (text, m) => {
  const got = readPerSlide(tidy(text), slidesInUse(m.specimen!), optionsOf(m));
  if (!got.ok) return got;
  return { ok: true, value: { value: got.value.map((one) => (one === 'none' ? 'empty' : one)) } };
};

/** `refer`, whenever it comes: the clinic is asked for the day, so that somebody owes the referral. */
function referredByDoctor(m: Moment, _question: Question, answer: string): readonly Act[] {
  const who = answer === 'refer' && m.case?.closed === null ? carrier(m.world, m.case) : null;
  if (!who) return [];
  const run = { kind: 'run', flow: 'referral', caseId: m.case!.id, item: null, vars: {} } as const;
  return [{ do: 'post', personId: who.id, what: run }];
}

export const sampling: Matter = {
  doctorAnswers: { 'fluid-came': referredByDoctor, 'too-many-attempts': referredByDoctor },
  decisions: {
    'next-sampling': {
      outcomes: [
        'capillary',
        'holder',
        'second-operator',
        'improvised-holder',
        'alarm',
        'alarm-next',
        'day-before',
        'day-over',
        'label',
        'nothing-left',
        'no-specimen',
      ],
      decide: (m) => {
        // A needle always has a specimen: without one nothing is watched, labelled or posted.
        if (m.case!.specimens.length === 0) return 'no-specimen';
        const open = m.case!.specimens.filter((one) => one.end === null);
        const next = open.find((one) => one.fixedAt === null);
        const item: Act = { do: 'item', item: next?.id ?? null };
        const begun = m.case!.specimens.some((one) => one.attempts.length > 0);
        // A needle may have been in that nobody told of.
        if (next && isStale(m)) {
          const isTold = begun && next.attempts.length === 0;
          return { outcome: isTold ? 'day-over' : 'day-before', acts: [item] };
        }
        if (next && alarmToday(m)) return { outcome: begun ? 'alarm-next' : 'alarm', acts: [item] };
        if (next) return { outcome: next.technique, acts: [item] };
        return { outcome: open.length > 0 ? 'label' : 'nothing-left', acts: [item] };
      },
    },
    'after-attempt': {
      outcomes: [
        'material',
        'blood',
        'too-little',
        'fluid-unasked',
        'fluid',
        'limit',
        'limit-most',
        'day-over',
        'unwell',
      ],
      decide: afterLast,
    },
    'needle-before': {
      outcomes: ['in-this', 'in-another', 'no'],
      decide: (m) => {
        if (m.specimen!.attempts.length > 0) return 'in-this';
        return m.case!.specimens.some((one) => one.attempts.length > 0) ? 'in-another' : 'no';
      },
    },
    'slides-how': {
      outcomes: ['wet', 'dried', 'drained', 'none'],
      decide: (m) => {
        const { attempts } = m.specimen!;
        if (isOnlyDrained(m.case!, m.specimen!) && fluidsSent(m.specimen!).length === 0) return 'drained';
        if (attempts.length > 0 && slidesFilled(m.specimen!) === 0) return 'none';
        return fixativeNow(m) === 'none' ? 'dried' : 'wet';
      },
    },
    'slides-usable': {
      outcomes: ['usable', 'late', 'some-dried', 'fluid-alone', 'all-dried', 'none'],
      decide: (m) => slidesDecision(m),
    },
    'may-again': {
      outcomes: ['yes', 'no', 'day-over'],
      decide: (m) => {
        if (isStale(m)) return 'day-over';
        return m.specimen!.attempts.length < limitOf(m.world.programme, 'passes') && !alarmToday(m) ? 'yes' : 'no';
      },
    },
    'slides-said': { outcomes: ['yes', 'no'], decide: (m) => (m.specimen!.fixedAt === null ? 'no' : 'yes') },
    'anything-taken': {
      outcomes: ['yes', 'no'],
      decide: (m) => (m.case!.specimens.some((one) => one.end === null) ? 'yes' : 'no'),
    },
  },
  recorders: {
    attempts: (m) => {
      const before = m.specimen!.attempts.length;
      return answeredFrom(m, attemptOutcomes).map((outcome, index) =>
        record({ type: 'attempted', specimen: m.specimen!.id, attempt: before + index + 1, outcome }),
      );
    },
    'needle-not-done': () => [record({ type: 'needle-not-done' }), { do: 'vars', vars: { notDone: true } }],
    // Fluid alone: no slide was used.
    'no-slides': (m) => [
      record({
        type: 'slides-fixed',
        specimen: m.specimen!.id,
        fixative: fixedIn(m),
        slides: Array.from({ length: m.specimen!.slidesPlanned }, () => 'empty' as const),
      }),
    ],
    slides: (m) => [
      record({
        type: 'slides-fixed',
        specimen: m.specimen!.id,
        fixative: fixedIn(m),
        slides: answeredFrom(m, slideStates),
      }),
    ],
    drained: (m) => [record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'drained' })],
    'not-usable': (m) => [record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' })],
    'question-over': questionOver,
    'sitting-over': (m) => [
      ...questionOver(m),
      ...m
        .case!.specimens.filter((one) => one.end === null && gaveNothing(m, one))
        .map(({ id }) => record({ type: 'specimen-closed', specimen: id, end: 'not-usable' })),
    ],
    'stopped-without-doctor': (m) => [
      ...(m.answer === null ? [record(answeredOf('after-limit', m.frame.item, 'silent'))] : []),
      ...closeQuestion(m, 'end-here', 'sampling.stopped-for-doctor'),
    ],
  },
  readers: { attempts: readAttempts, slides: readSlides },
  values: samplingWords,
};

/** One more needle needs no doctor's yes any more; what fluid means is still the doctor's matter. */
function questionOver(moment: Moment): readonly Act[] {
  const asked = moment.questions.find((one) => one.id === moment.frame.vars.question);
  return asked?.about === 'too-many-attempts' ? closeQuestion(moment, 'end-here', 'sampling.stopped-for-doctor') : [];
}

/** No needle was in, or what it gave can be used by nobody. */
function gaveNothing(moment: Moment, specimen: Specimen): boolean {
  if (specimen.attempts.length === 0) return true;
  return specimen.fixedAt !== null && slidesDecision(moment, specimen) === 'none';
}

function fixedIn(moment: Moment): 'alcohol' | 'spray' | 'air-dried' {
  const fixative = fixativeNow(moment);
  return fixative === 'none' ? 'air-dried' : fixative;
}

/** Those of the answer's words that are in the list, in the answer's order. */
function answeredFrom<T extends string>(moment: Moment, known: readonly T[]): readonly T[] {
  const said = moment.answer;
  return Array.isArray(said) ? said.flatMap((one) => known.find((word) => word === one) ?? []) : [];
}
