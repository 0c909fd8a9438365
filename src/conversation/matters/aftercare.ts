/** The fixative's time, the watch over the neck, and what must be answered before anything is posted. */

import { answerOf, type Specimen } from '../../case/case.ts';
import { holdsSomething, needleWasIn } from '../../case/parcel.ts';
import { noduleOf } from '../../case/target.ts';
import { watchLength } from '../../clinical/observation.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { heldBetween, lastClock } from '../answers/clock.ts';
import { tidy } from '../answers/reply.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { durationOf } from '../programme.ts';
import { closeQuestion } from './close-question.ts';
import { clockText, closeOnce, listAnswer, readerZone, textAnswer, zoneOf } from './common.ts';
import { coatLacks, fixedHow, routeAfterAlcohol } from './fixing.ts';

/** Lumps that a needle was in, whatever came of it: a neck bleeds without slides too. */
function taken(moment: Moment): readonly Specimen[] {
  return moment.case!.specimens.filter((one) => one.attempts.length > 0);
}

/** How long the watch is, and why it is the longer one. What is not known counts as a reason, but for an unmeasured pressure. */
export function watchOf(moment: Moment): ReturnType<typeof watchLength> {
  const specimens = taken(moment);
  const bleeding = listAnswer(moment, 'bleeding');
  // Not asked is not known either.
  const open = bleeding.includes('unknown') || !Array.isArray(answerOf(moment.case!, 'bleeding'));
  const thinners = bleeding.filter((one) => one !== 'bleeding-disorder' && one !== 'unknown');
  const inside = specimens.map((one) => {
    const nodule = noduleOf(one.target);
    return nodule === null ? undefined : answerOf(moment.case!, 'composition', nodule);
  });
  return watchLength({
    bloodSeen: specimens.some((one) => one.attempts.includes('blood')),
    cystic:
      specimens.some((one) => one.fluids.length > 0) || inside.some((one) => one === 'cystic' || one === 'mixed')
        ? true
        : inside.every((one) => one === 'solid' || one === 'spongiform')
          ? false
          : 'unknown',
    passes: specimens.reduce((sum, one) => sum + one.attempts.length, 0),
    bloodThinner: thinners.length > 0 ? true : open ? 'unknown' : false,
    bleedingDisorder: bleeding.includes('bleeding-disorder') ? true : open ? 'unknown' : false,
    // It stood among the checks before it got a question of its own.
    highPressure: [...listAnswer(moment, 'dangers'), ...listAnswer(moment, 'checks')].includes('high-pressure')
      ? true
      : 'not-measured',
    largestMm: largestOf(specimens.map((one) => one.target.mm)),
    thickNeedle: thickNeedleAtHand(moment),
  });
}

/** Minutes to press: longer for who bleeds longer, and where nobody knows. */
function pressFor(moment: Moment): string {
  const bleedsLonger = watchOf(moment).because.some((one) => /^(blood-thinner|bleeding-disorder)/.test(one));
  const key: KeyIn<'sampling'> = bleedsLonger ? 'press-long' : 'press-usual';
  return moment.world.texts.render(moment.person.locale, `sampling.${key}`, () => '');
}

/** The largest diameter of all that was sampled, mm; one that nobody measured may be the largest. */
function largestOf(sizes: readonly (readonly number[])[]): number | 'unknown' {
  return sizes.every((mm) => mm.length > 0) ? Math.max(0, ...sizes.flat()) : 'unknown';
}

/** Whether the needle that bleeds more was used: it was, where no thinner one was at hand. */
function thickNeedleAtHand(moment: Moment): boolean {
  const supplies = listAnswer(moment, 'supplies');
  return supplies.includes('needle-22') && !supplies.includes('fine-needles');
}

/** When the last slide went into its fixative: as the worker said, else when the report came; without slides, of the needle. */
export function lastFixedAt(moment: Moment): number {
  const reported = reportedAt(moment);
  const said = moment.case ? answerOf(moment.case, 'fixed-time') : null;
  return typeof said === 'number' && said < reported ? said : reported;
}

/** When the report came that the last slides are in: they were in by then. */
function reportedAt(moment: Moment): number {
  return Math.max(0, ...taken(moment).map((one) => one.fixedAt ?? one.takenAt ?? 0));
}

/** No needle is in before the first code is pencilled, ms; 0 where no history says when that was. */
function codeIssuedAt(moment: Moment): number {
  return moment.case?.milestones.find((one) => one.event.type === 'code-issued')?.at ?? 0;
}

function alcoholDone(moment: Moment): number {
  return lastFixedAt(moment) + durationOf(moment.world.programme, 'alcohol-minimum');
}

function sprayDone(moment: Moment): number {
  return lastFixedAt(moment) + durationOf(moment.world.programme, 'spray-dry');
}

/** When the watch that began with the fixing is over. */
export function watchOver(moment: Moment): number {
  return (
    lastFixedAt(moment) +
    durationOf(moment.world.programme, watchOf(moment).length === 'long' ? 'watch-long' : 'watch-short')
  );
}

/** How the watch ended, as the history keeps it. */
function outcomeOf(neck: string): string {
  return neck === 'all-well' ? 'well-and-told' : neck;
}

export const aftercare: Matter = {
  decisions: {
    // Where no needle was in, nothing is fixed, watched or closed.
    'aftercare-of': {
      outcomes: ['alcohol', 'alcohol-and-dried', 'spray', 'dried', 'nothing', 'no-needle'],
      decide: (m) => (needleWasIn(m.case!) ? fixedHow(m.case!.specimens) : 'no-needle'),
    },
    // Who takes the case over is not asked again.
    'fixed-time-said': {
      outcomes: ['ask', 'known'],
      decide: (m) => ((answerOf(m.case!, 'fixed-time') ?? null) === null ? 'ask' : 'known'),
    },
    // Something happened during the watch: it begins again from the end of that.
    'watched-enough': {
      outcomes: ['enough', 'enough-after-alarm', 'longer'],
      decide: (m) => {
        const long = durationOf(m.world.programme, 'watch-long');
        if (m.case!.sos !== null) return 'longer';
        const over = m.case!.sosOverAt;
        if (over === null || over <= lastFixedAt(m)) return 'enough';
        return m.now - over < long ? 'longer' : 'enough-after-alarm';
      },
    },
    'container-answered': {
      outcomes: ['yes', 'no'],
      decide: (m) =>
        fixedHow(m.case!.specimens) !== 'nothing' && answerOf(m.case!, 'container') === undefined ? 'no' : 'yes',
    },
    'anything-to-post': {
      outcomes: ['yes', 'drained', 'no'],
      decide: (m) => {
        const { specimens } = m.case!;
        if (specimens.some((one) => one.end === null && holdsSomething(one))) return 'yes';
        return specimens.some((one) => one.end === 'drained') ? 'drained' : 'no';
      },
    },
  },
  recorders: {
    'aftercare-done': (m) => [record({ type: 'aftercare-done', outcome: outcomeOf(textAnswer(m, 'neck')) })],
    // The doctors need not look for an answer that has come; what else they were asked waits for them still.
    'neck-answered': (m) => {
      const asked = m.questions.find((one) => one.id === m.frame.vars.question);
      if (asked?.about !== 'no-aftercare-answer') return [];
      const neckNow = m.world.texts.label(m.person.locale, 'neck', String(m.answer));
      return closeQuestion(m, String(m.answer), 'aftercare.neck-answered-for-doctor', { neckNow });
    },
    'sample-again': (m) => [
      record({ type: 'not-sampled', why: 'no-usable-sample', reviewOn: textAnswer(m, 'sampling-day') || null }),
    ],
    'close-without-sample': (m) => closeOnce(m, 'no-usable-sample'),
  },
  readers: {
    'clock-past': (text, m) => {
      if (tidy(text) === '9') return { ok: true, value: { value: 'unknown' } };
      const said = lastClock(text, m.now, zoneOf(m), m.world.texts.spokenClock(m.person.locale));
      const at = said.ok ? heldBetween(said.value, codeIssuedAt(m), reportedAt(m)) : said;
      return at.ok ? { ok: true, value: { value: at.value } } : at;
    },
  },
  instants: {
    'alcohol-done': (m) => Math.max(m.now, alcoholDone(m)),
    'spray-done': (m) => Math.max(m.now, sprayDone(m)),
    'watch-over': (m) => Math.max(m.now, watchOver(m)),
  },
  values: {
    pressFor: { of: pressFor, sample: '15-30' },
    alcoholDoneTime: { of: (m) => clockText(Math.max(m.now, alcoholDone(m)), readerZone(m)), sample: '11:02' },
    sprayDoneTime: { of: (m) => clockText(Math.max(m.now, sprayDone(m)), readerZone(m)), sample: '10:52' },
    alcoholThen: {
      of: (m) => {
        const key: KeyIn<'aftercare'> = coatLacks(m) ? 'then-no-spray' : `then-${routeAfterAlcohol(m)}`;
        return m.world.texts.render(m.person.locale, `aftercare.${key}`, () => '');
      },
      sample:
        'Take the slides out. Put 2 glycerine drops and a clean slide on each, wrap in wax paper. The lab agreed.',
    },
    watchLongUntil: {
      of: (m) => clockText(m.now + durationOf(m.world.programme, 'watch-long'), readerZone(m)),
      sample: '12:02',
    },
    warnDays: {
      of: (m) => String(durationOf(m.world.programme, 'going-home-words') / 86_400_000),
      sample: '2',
    },
  },
};
