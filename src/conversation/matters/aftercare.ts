/** The fixative's time, the watch over the neck, and what must be answered before anything is posted. */
import { answerOf, type Specimen } from '../../case/case.ts';
import { watchMinutes } from '../../clinical/observation.ts';
import { type Matter, type Moment, record } from '../moment.ts';
import { durationOf, laboratoryOf } from '../programme.ts';
import { clockText, dayAt, listAnswer, zoneOf } from './common.ts';

function taken(moment: Moment): readonly Specimen[] {
  return moment.case!.specimens.filter((one) => one.fixedAt !== null);
}

/** Minutes of watch and why it is the longer one. What is not known counts as a reason, but for an unmeasured pressure. */
export function watchOf(moment: Moment): ReturnType<typeof watchMinutes> {
  const specimens = taken(moment);
  const bleeding = listAnswer(moment, 'bleeding');
  const open = bleeding.includes('unknown');
  const thinners = bleeding.filter((one) => one !== 'bleeding-disorder' && one !== 'unknown');
  const inside = specimens.map((one) => answerOf(moment.case!, 'composition', one.nodule));
  return watchMinutes({
    bloodSeen: specimens.some((one) => one.attempts.includes('blood')),
    cystic: inside.some((one) => one === 'cystic' || one === 'mixed'),
    passes: Math.max(0, ...specimens.map((one) => one.attempts.length)),
    bloodThinner: thinners.length > 0 ? true : open ? 'unknown' : false,
    bleedingDisorder: bleeding.includes('bleeding-disorder') ? true : open ? 'unknown' : false,
    highPressure: 'not-measured',
  });
}

function lastFixedAt(moment: Moment): number {
  return Math.max(0, ...taken(moment).map((one) => one.fixedAt ?? 0));
}

function alcoholDone(moment: Moment): number {
  return lastFixedAt(moment) + durationOf(moment.world.programme, 'alcohol-minimum');
}

function sprayDone(moment: Moment): number {
  return lastFixedAt(moment) + durationOf(moment.world.programme, 'spray-dry');
}

function watchOver(moment: Moment): number {
  return (
    lastFixedAt(moment) +
    durationOf(moment.world.programme, watchOf(moment).minutes === 60 ? 'watch-long' : 'watch-short')
  );
}

export const aftercare: Matter = {
  decisions: {
    // Something happened during the watch: it begins again from the end of that.
    'watched-enough': {
      outcomes: ['enough', 'longer'],
      decide: (m) => {
        const long = durationOf(m.world.programme, 'watch-long');
        if (m.case!.sos !== null) return 'longer';
        const over = m.case!.sosOverAt;
        return over !== null && over > lastFixedAt(m) && m.now - over < long ? 'longer' : 'enough';
      },
    },
    'container-answered': {
      outcomes: ['yes', 'no'],
      decide: (m) => (answerOf(m.case!, 'container') === undefined ? 'no' : 'yes'),
    },
    'to-posting': { outcomes: ['go'], decide: () => 'go' },
  },
  recorders: {
    'aftercare-done': () => [record({ type: 'aftercare-done', outcome: 'well-and-told' })],
  },
  instants: {
    'alcohol-done': (m) => Math.max(m.now, alcoholDone(m)),
    'spray-done': (m) => Math.max(m.now, sprayDone(m)),
    'watch-over': (m) => Math.max(m.now, watchOver(m)),
  },
  values: {
    alcoholMinutes: { of: (m) => String(durationOf(m.world.programme, 'alcohol-minimum') / 60_000), sample: '20' },
    alcoholDoneTime: { of: (m) => clockText(alcoholDone(m), zoneOf(m)), sample: '11:02' },
    sprayDoneTime: { of: (m) => clockText(sprayDone(m), zoneOf(m)), sample: '10:52' },
    alcoholThen: {
      of: (m) => {
        const agreed = laboratoryOf(m.world.programme, m.case!.siteId).alcohol;
        return m.world.texts.render(m.person.locale, `aftercare.then-${agreed}`, () => '');
      },
      sample: 'Leave slides IN the alcohol, lid tight, taped. Do not dry. Lab agreed: stay in alcohol.',
    },
    watchLongMinutes: { of: (m) => String(durationOf(m.world.programme, 'watch-long') / 60_000), sample: '60' },
    watchLongUntil: {
      of: (m) => clockText(m.now + durationOf(m.world.programme, 'watch-long'), zoneOf(m)),
      sample: '12:02',
    },
    resultDay: {
      of: (m) => {
        const at = lastFixedAt(m) + durationOf(m.world.programme, 'result-told');
        return m.world.texts.render(m.person.locale, 'aftercare.result-on', () => dayAt(m, at));
      },
      sample: ' Result date 26 MAR.',
    },
  },
};
