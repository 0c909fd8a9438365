/** Attempts, and what became of the slides. */
import { answerOf, type Specimen } from '../../case/case.ts';
import type { AttemptOutcome, SlideState } from '../../case/events.ts';
import { judgeSlides } from '../../clinical/fixation.ts';
import { afterAttempt, SLIDES_PER_ATTEMPT } from '../../clinical/sampling.ts';
import { unreadable } from '../answers/answer.ts';
import { readChoice } from '../answers/choice.ts';
import { readPerSlide } from '../answers/per-slide.ts';
import { tidy } from '../answers/reply.ts';
import { type Act, type Matter, type Moment, record } from '../moment.ts';
import { laboratoryOf, limitOf } from '../programme.ts';
import { optionsOf } from './findings-readers.ts';
import { suppliesNow } from './ready.ts';

const outcomes: readonly AttemptOutcome[] = ['material', 'blood', 'too-little', 'unwell'];

function word(moment: Moment, key: string): string {
  return moment.world.texts.render(moment.person.locale, `sampling.${key}`, () => '');
}

/** Attempts that the supplies, the programme and the doctor allow for the specimen. */
function attemptsAllowed(moment: Moment, specimen: Specimen): number {
  const judged = suppliesNow(moment);
  const bySupplies = judged.ok ? judged.attempts : 1;
  const bySlides = Math.floor(specimen.slidesPlanned / SLIDES_PER_ATTEMPT);
  return Math.min(limitOf(moment.world.programme, 'passes'), bySlides, bySupplies);
}

/** Slides in use: those planned, and a pair for every try beyond them. */
function slidesInUse(specimen: Specimen): number {
  return Math.max(specimen.slidesPlanned, specimen.attempts.length * SLIDES_PER_ATTEMPT);
}

function afterLast(moment: Moment): string {
  const specimen = moment.specimen!;
  const made = specimen.attempts.length;
  const allowed = attemptsAllowed(moment, specimen);
  const next = afterAttempt({
    attempt: made,
    outcome: specimen.attempts.at(-1) ?? 'too-little',
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
      return 'limit';
    case 'again':
      return specimen.attempts.at(-1) === 'blood' ? 'blood' : 'too-little';
  }
}

/** How fresh smears go where this laboratory wants them. */
function fixation(moment: Moment): 'alcohol' | 'spray' | 'none' | 'both' {
  const judged = suppliesNow(moment);
  if (!judged.ok) return 'alcohol';
  if (judged.slides === 'one-of-each-pair-dried') return 'both';
  return judged.fixative;
}

export function fixativeOf(moment: Moment): 'alcohol' | 'spray' | 'air-dried' {
  const judged = suppliesNow(moment);
  if (!judged.ok || judged.fixative === 'none') return 'air-dried';
  return judged.fixative;
}

function jarKey(moment: Moment): string {
  const judged = suppliesNow(moment);
  return `jar-${judged.ok ? judged.fixative : 'alcohol'}`;
}

function wordKey(moment: Moment): string {
  const judged = suppliesNow(moment);
  return `word-${judged.ok ? judged.fixative : 'alcohol'}`;
}

export const sampling: Matter = {
  decisions: {
    'next-sampling': {
      outcomes: ['capillary', 'holder', 'second-operator', 'improvised-holder', 'label', 'nothing-left'],
      decide: (m) => {
        const open = m.case!.specimens.filter((one) => one.end === null);
        const next = open.find((one) => one.fixedAt === null);
        const item: Act = { do: 'item', item: next?.id ?? null };
        if (next) return { outcome: next.technique, acts: [item] };
        return { outcome: open.length > 0 ? 'label' : 'nothing-left', acts: [item] };
      },
    },
    'after-attempt': { outcomes: ['material', 'blood', 'too-little', 'limit', 'unwell'], decide: afterLast },
    'slides-usable': {
      outcomes: ['usable', 'doubtful', 'none'],
      decide: (m) => {
        const stain = laboratoryOf(m.world.programme, m.case!.siteId).stain;
        const judged = judgeSlides(m.specimen!.slides, stain);
        if (judged.overall === 'all-empty' || judged.overall === 'none-usable') return 'none';
        if (judged.overall === 'all-dried') return stain === 'wet' ? 'doubtful' : 'usable';
        return m.specimen!.slides.some((one) => one === 'late' || one === 'dried') && stain === 'wet'
          ? 'doubtful'
          : 'usable';
      },
    },
  },
  recorders: {
    attempts: (m) => {
      const before = m.specimen!.attempts.length;
      const list = Array.isArray(m.answer) ? (m.answer as AttemptOutcome[]) : [];
      return list.map((outcome, index) =>
        record({ type: 'attempted', specimen: m.specimen!.id, attempt: before + index + 1, outcome }),
      );
    },
    slides: (m) => [
      record({
        type: 'slides-fixed',
        specimen: m.specimen!.id,
        fixative: fixativeOf(m),
        slides: m.answer as unknown as readonly SlideState[],
      }),
    ],
    'not-usable': (m) => [record({ type: 'specimen-closed', specimen: m.specimen!.id, end: 'not-usable' })],
  },
  readers: {
    // One outcome by its numbered digits or its word, or several attempts at once: `12 21`.
    attempts: (text, m) => {
      const options = optionsOf(m);
      const one = readChoice(text, options);
      if (one.ok) return { ok: true, value: { value: [one.value] } };
      const digits = tidy(text).replace(/[\s,.;/+-]+/g, '');
      if (!/^(\d\d)+$/.test(digits)) return one;
      const first = m.specimen!.attempts.length + 1;
      const pairs = digits.match(/\d\d/g) ?? [];
      const said: AttemptOutcome[] = [];
      for (const [index, pair] of pairs.entries()) {
        const outcome = outcomes[Number(pair[1]) - 1];
        if (Number(pair[0]) !== first + index || !outcome) return unreadable('not-an-option');
        // After material or a faint there is no further puncture.
        if (index < pairs.length - 1 && (outcome === 'material' || outcome === 'unwell'))
          return unreadable('wrong-count');
        said.push(outcome);
      }
      if (first + pairs.length - 1 > Math.max(attemptsAllowed(m, m.specimen!), first)) return unreadable('wrong-count');
      return { ok: true, value: { value: said } };
    },
    slides: (text, m) => {
      const got = readPerSlide(text, slidesInUse(m.specimen!), optionsOf(m));
      if (!got.ok) return got;
      return { ok: true, value: { value: got.value.map((one) => (one === 'nothing' ? 'empty' : one)) } };
    },
  },
  values: {
    attempt: { of: (m) => String((m.specimen?.attempts.length ?? 0) + 1), sample: '2' },
    attemptBefore: { of: (m) => String(m.specimen?.attempts.length ?? 0), sample: '1' },
    attemptsMade: { of: (m) => String(m.specimen?.attempts.length ?? 0), sample: '2' },
    pairNow: {
      of: (m) => {
        const first = (m.specimen?.attempts.length ?? 0) * SLIDES_PER_ATTEMPT + 1;
        return `${first}-${first + 1}`;
      },
      sample: '3-4',
    },
    slidesNow: { of: (m) => String(m.specimen ? slidesInUse(m.specimen) : 0), sample: '4' },
    slidesExample: {
      of: (m) => `${'1'.repeat(Math.max(0, (m.specimen ? slidesInUse(m.specimen) : 1) - 1))}2`,
      sample: '1112',
    },
    see: {
      of: (m) => {
        const guided = answerOf(m.case!, 'ultrasound.done') === true && siteGuided(m);
        return word(m, guided ? 'see-us' : 'see-fingers');
      },
      sample: ', see tip on US',
    },
    jarOpen: { of: (m) => word(m, jarKey(m)), sample: 'Jar OPEN' },
    fixNow: { of: (m) => word(m, `fix-${fixation(m)}`), sample: 'WET into alcohol within 5 s, both' },
    fixWord: { of: (m) => word(m, wordKey(m)), sample: 'wet into alcohol' },
  },
};

function siteGuided(moment: Moment): boolean {
  const site = moment.world.programme.sites.find((one) => one.id === moment.case?.siteId);
  return site?.guidance ?? moment.world.programme.sites[0]?.guidance ?? false;
}
