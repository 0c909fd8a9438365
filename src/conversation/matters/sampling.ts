/** Attempts, and what became of the slides. */
import { answeredOf } from '../../case/answers.ts';
import { type SlideState, slideStates } from '../../clinical/fixation.ts';
import {
  type AttemptOutcome,
  afterAttempt,
  attemptOutcomes,
  PASSES,
  SLIDES_PER_ATTEMPT,
} from '../../clinical/sampling.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readPerSlide } from '../answers/per-slide.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type Matter, type Moment, type Reader, record } from '../moment.ts';
import { limitOf } from '../programme.ts';
import { attemptsAllowed, nextNumber, slidesInUse } from './attempts.ts';
import { closeQuestion } from './close-question.ts';
import { optionsOf } from './findings-readers.ts';
import { fixativeNow, slidesWorth, stainFor } from './fixing.ts';
import { alarmToday } from './hindrances.ts';
import { samplingWords } from './sampling-words.ts';

function afterLast(moment: Moment): string {
  const specimen = moment.specimen!;
  const made = specimen.attempts.length;
  const outcome = specimen.attempts.at(-1) ?? 'too-little';
  const allowed = attemptsAllowed(moment, specimen);
  const next = afterAttempt({
    attempt: made,
    outcome,
    policyLimit: limitOf(moment.world.programme, 'passes'),
    slidesLeft: Math.max(0, Math.min(allowed * SLIDES_PER_ATTEMPT, specimen.slidesPlanned) - made * SLIDES_PER_ATTEMPT),
    needlesLeft: Math.max(0, allowed - made),
  });
  switch (next.next) {
    case 'done':
      return 'material';
    case 'stop':
      return 'unwell';
    case 'ask-doctor':
      return made >= PASSES.most ? 'limit-most' : 'limit';
    case 'again':
      if (alarmToday(moment)) return 'limit';
      return outcome === 'blood' ? 'blood' : 'too-little';
  }
}

function slidesDecision(moment: Moment): string {
  const specimen = moment.specimen!;
  const { overall } = slidesWorth(moment, specimen);
  const stain = stainFor(moment, specimen);
  if (overall === 'all-dried') return stain === 'wet' ? 'all-dried' : 'usable';
  if (overall !== 'usable') return 'none';
  if (stain === 'wet' && specimen.slides.includes('dried')) return 'some-dried';
  return specimen.slides.includes('late') ? 'late' : 'usable';
}

/** One outcome by its numbered digits or its word, or several attempts at once in their order: `12 21`. */
const readAttempts: Reader = (text, m) => {
  const options = optionsOf(m);
  const one = readChoice(text, options);
  if (one.ok) return { ok: true, value: { value: [one.value] } };
  let rest = tidy(text).replace(/[\s,.;/+-]+/g, '');
  const said: AttemptOutcome[] = [];
  while (rest !== '') {
    const last = said.at(-1);
    // After material or a faint there is no further needle.
    if (last === 'material' || last === 'unwell') return unreadable('not-an-option');
    const number = String(nextNumber(m) + said.length);
    const outcome = rest.startsWith(number) ? attemptOutcomes[Number(rest[number.length] ?? 'x') - 1] : undefined;
    if (!outcome) return /\d\d.*\d\d/.test(rest) || said.length > 0 ? unreadable('not-an-option') : one;
    said.push(outcome);
    rest = rest.slice(number.length + 1);
  }
  if (said.length === 0) return one;
  const made = m.specimen!.attempts.length;
  if (made + said.length > Math.max(attemptsAllowed(m, m.specimen!), made + 1)) return unreadable('out-of-range');
  return { ok: true, value: { value: said } };
};

/**
 * One digit a slide. Digits that are the same as the report just sent may be that report sent twice: then they count only
 * with an S in front.
 */
const readSlides: Reader = (text, m) => {
  const plain = tidy(text);
  const marked = /^s\s*\d/i.test(plain);
  const got = readPerSlide(marked ? plain.slice(1) : plain, slidesInUse(m.specimen!), optionsOf(m));
  if (!got.ok) return got;
  const repeated = !marked && plain.replace(/\D/g, '') === m.frame.vars.lastReport;
  const value = got.value.map((one) => (one === 'none' ? 'empty' : one));
  return { ok: true, value: { value, outcome: repeated ? 'unsure' : 'answered' } };
};

export const sampling: Matter = {
  decisions: {
    'next-sampling': {
      outcomes: [
        'capillary',
        'holder',
        'second-operator',
        'improvised-holder',
        'alarm',
        'alarm-next',
        'label',
        'nothing-left',
      ],
      decide: (m) => {
        const open = m.case!.specimens.filter((one) => one.end === null);
        const next = open.find((one) => one.fixedAt === null);
        const item: Act = { do: 'item', item: next?.id ?? null };
        const begun = m.case!.specimens.some((one) => one.attempts.length > 0);
        if (next && alarmToday(m)) return { outcome: begun ? 'alarm-next' : 'alarm', acts: [item] };
        if (next) return { outcome: next.technique, acts: [item] };
        return { outcome: open.length > 0 ? 'label' : 'nothing-left', acts: [item] };
      },
    },
    'after-attempt': {
      outcomes: ['material', 'blood', 'too-little', 'limit', 'limit-most', 'unwell'],
      decide: afterLast,
    },
    'slides-how': { outcomes: ['wet', 'dried'], decide: (m) => (fixativeNow(m) === 'none' ? 'dried' : 'wet') },
    'slides-usable': { outcomes: ['usable', 'late', 'some-dried', 'all-dried', 'none'], decide: slidesDecision },
    'may-again': {
      outcomes: ['yes', 'no'],
      decide: (m) =>
        m.specimen!.attempts.length < limitOf(m.world.programme, 'passes') && !alarmToday(m) ? 'yes' : 'no',
    },
  },
  recorders: {
    attempts: (m) => {
      const before = m.specimen!.attempts.length;
      const first = nextNumber(m);
      const list = answeredFrom<AttemptOutcome>(m, attemptOutcomes);
      const lastReport = list.map((one, index) => `${first + index}${attemptOutcomes.indexOf(one) + 1}`).join('');
      return [
        ...list.map((outcome, index) =>
          record({ type: 'attempted', specimen: m.specimen!.id, attempt: before + index + 1, outcome }),
        ),
        { do: 'vars', vars: { lastReport } },
      ];
    },
    slides: (m) => {
      const fixative = fixativeNow(m);
      return [
        record({
          type: 'slides-fixed',
          specimen: m.specimen!.id,
          fixative: fixative === 'none' ? 'air-dried' : fixative,
          slides: answeredFrom<SlideState>(m, slideStates),
        }),
      ];
    },
    'not-usable': (m) => [record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' })],
    'stopped-without-doctor': (m) => [
      ...(m.answer === null ? [record(answeredOf('after-limit', m.frame.item, 'silent'))] : []),
      ...closeQuestion(m, 'end-here', 'sampling.stopped-for-doctor'),
    ],
  },
  readers: { attempts: readAttempts, slides: readSlides },
  values: samplingWords,
};

/** Those of the answer's words that are in the list, in the answer's order. */
function answeredFrom<T extends string>(moment: Moment, known: readonly T[]): readonly T[] {
  const said = moment.answer;
  return Array.isArray(said) ? said.flatMap((one) => known.find((word) => word === one) ?? []) : [];
}
