/** All figures of the line as one text for a collector. Counts, states, ages and sizes: no ids, numbers, names or texts. */
import type { Clock, Figures, LinkState, Store } from '../line/ports.ts';
import type { Counts } from './counts.ts';
import { expositionOf, type Family, type Sample } from './exposition.ts';
import { type Health, type LinkHealth, sizeOf } from './health.ts';
import type { ProcessFigures } from './process-figures.ts';

export interface MetricsParts {
  readonly store: Pick<Store, 'figures' | 'engine'>;
  readonly clock: Clock;
  readonly programmeId: string;
  /** Every lane that texts wait in. */
  readonly lanes: readonly string[];
  readonly version: string;
  readonly health: () => Promise<Health>;
  readonly counts: Counts;
  readonly process: ProcessFigures;
  /** What the line looks after, and whether it is wrong. */
  readonly conditions: () => ReadonlyMap<string, { readonly wrong: boolean }>;
  /** Faults that the newest copy found in the database; null = there is none. */
  readonly backupFaults: () => Promise<number | null>;
  /** File of the embedded database; null = another engine. */
  readonly database: string | null;
}

const states: readonly LinkState[] = ['ok', 'mute', 'doubtful', 'slow', 'deaf', 'clock'];

/** Rejects when the store does. */
export async function metricsOf(parts: MetricsParts): Promise<string> {
  const health = await parts.health();
  const now = parts.clock.now();
  const figures = await parts.store.figures(parts.programmeId, now);
  const labels = { version: parts.version, engine: parts.store.engine };
  return expositionOf([
    gauge('neckline_build_info', 'Always 1; version and engine are its labels.', [{ labels, value: 1 }]),
    single('neckline_healthy', '1 = /health answers 200.', Number(health.ok)),
    ...queueFamilies(figures.queues, parts.lanes, Object.keys(health.links), now),
    ...waitingFamilies(figures, now),
    ...linkFamilies(health.links),
    {
      name: 'neckline_unreadable_calls_total',
      type: 'counter',
      help: 'Calls of the gateway that could not be read.',
      samples: [{ labels: { link: 'sms' }, value: health.unreadableCalls.count }],
    },
    gauge(
      'neckline_alert',
      '1 = needs a person; the line tells it to the alert address too.',
      [...parts.conditions()].map(([what, { wrong }]) => ({ labels: { what }, value: Number(wrong) })),
    ),
    ...storageFamilies(parts.database, health, await parts.backupFaults()),
    ...parts.counts.families,
    ...parts.process.families(),
  ]);
}

/** Age, s. Said in the future: the clock was set back since, and nobody knows how long it waits. */
function ageOf(at: number | null | undefined, now: number): number {
  return at == null ? 0 : Math.abs(now - at) / 1000;
}

/** Each lane of each link, also where nothing waits: a figure that goes away cannot be told from one that is nought. */
function queueFamilies(
  queues: Figures['queues'],
  lanes: readonly string[],
  links: readonly string[],
  now: number,
): readonly Family[] {
  const empty = links.flatMap((channel) => lanes.map((lane) => ({ lane, channel, texts: 0, oldestAt: null })));
  const isOf = (one: { lane: string; channel: string | null }) => (two: { lane: string; channel: string | null }) =>
    one.lane === two.lane && one.channel === two.channel;
  const all = [...queues, ...empty.filter((one) => !queues.some(isOf(one)))];
  const labelsOf = (one: { lane: string; channel: string | null }) => ({ lane: one.lane, link: one.channel ?? '' });
  return [
    gauge(
      'neckline_queue_texts',
      'Texts that have not gone out.',
      all.map((one) => ({ labels: labelsOf(one), value: one.texts })),
    ),
    gauge(
      'neckline_queue_oldest_seconds',
      'Age of the oldest of them.',
      all.map((one) => ({ labels: labelsOf(one), value: ageOf(one.oldestAt, now) })),
    ),
  ];
}

function waitingFamilies({ late, parked, alarms, openQuestions, cases }: Figures, now: number): readonly Family[] {
  return [
    single('neckline_due_late', 'Timers and events that are due and not handled.', late.rows),
    single('neckline_due_oldest_seconds', 'How late the oldest of them is.', ageOf(late.oldestAt, now)),
    single('neckline_parked', 'Events that could not be handled and wait for a human.', parked.events),
    single('neckline_parked_oldest_seconds', 'Age of the oldest of them.', ageOf(parked.oldestAt, now)),
    single('neckline_alarms_unanswered', 'Alarms that no doctor has answered.', alarms.length),
    single('neckline_alarms_oldest_seconds', 'Age of the oldest of them.', ageOf(alarms[0]?.openedAt, now)),
    single('neckline_questions_unanswered', 'Questions to doctors without an answer, alarms too.', openQuestions),
    gauge(
      'neckline_cases_open',
      'Open cases by status, practice left out.',
      Object.entries(cases).map(([status, value]) => ({ labels: { status }, value })),
    ),
  ];
}

function linkFamilies(links: Health['links']): readonly Family[] {
  const all = Object.entries(links);
  const ages = (of: (link: LinkHealth) => number | null): readonly Sample[] =>
    all.flatMap(([link, one]) => {
      const ms = of(one);
      return ms === null ? [] : [{ labels: { link }, value: ms / 1000 }];
    });
  return [
    gauge(
      'neckline_link_state',
      '1 = the state that the link is in.',
      all.flatMap(([link, one]) =>
        states.map((state) => ({ labels: { link, state }, value: Number(one.state === state) })),
      ),
    ),
    gauge(
      'neckline_link_heard_age_seconds',
      'Since a text came in by it.',
      ages((one) => one.heardAgoMs),
    ),
    gauge(
      'neckline_link_handed_age_seconds',
      'Since it took a text.',
      ages((one) => one.handedAgoMs),
    ),
    gauge(
      'neckline_link_reported_age_seconds',
      'Since a delivery was reported.',
      ages((one) => one.reportedAgoMs),
    ),
    gauge(
      'neckline_link_credit_segments',
      'Prepaid segments that are left, where they are counted.',
      all.flatMap(([link, one]) => (one.creditLeft === null ? [] : [{ labels: { link }, value: one.creditLeft }])),
    ),
  ];
}

function storageFamilies(database: string | null, health: Health, faults: number | null): readonly Family[] {
  const known = (name: string, help: string, value: number | null): Family =>
    gauge(name, help, value === null ? [] : [{ labels: {}, value }]);
  // Endless where there is none: whatever compares it with a limit is told.
  const age = health.backupAgeMs === null ? Number.POSITIVE_INFINITY : health.backupAgeMs / 1000;
  return [
    single('neckline_backup_age_seconds', 'Since the newest backup was made; +Inf = none is known of.', age),
    known('neckline_backup_faults', 'Faults of the database that it found.', faults),
    known('neckline_disk_free_bytes', "What the data folder's disk still takes.", health.freeBytes),
    single('neckline_on_reserve', '1 = the disk is full and only alarms are stored.', Number(health.onReserve)),
    known('neckline_database_bytes', "Size of the database's file.", database === null ? null : sizeOf(database)),
    known('neckline_wal_bytes', 'Size of its write-ahead log.', health.walBytes),
    single('neckline_database_sound', "0 = the database's file does not hold together.", Number(health.sound)),
  ];
}

function gauge(name: string, help: string, samples: readonly Sample[]): Family {
  return { name, type: 'gauge', help, samples };
}

function single(name: string, help: string, value: number): Family {
  return gauge(name, help, [{ labels: {}, value }]);
}
