/** How a running line is seen from outside: /health and /metrics over the same looks. */
import type { Door } from '../channels/http.ts';
import { lanes } from '../conversation/effect.ts';
import { lastBackup } from '../line/last-backup.ts';
import type { Line } from '../line/line.ts';
import type { Clock, Log, Spare, Steady, Store } from '../line/ports.ts';
import type { Counts } from '../observe/counts.ts';
import { type Health, healthOf } from '../observe/health.ts';
import { metricsOf } from '../observe/metrics.ts';
import { watchProcess } from '../observe/process-figures.ts';
import { metricsDoor } from './metrics-door.ts';
import { packageVersion } from './package-version.ts';

export interface LineFigures {
  readonly health: () => Promise<Health>;
  /** Answers /metrics. */
  readonly door: Door;
  /** Ends measuring the process. */
  end(): void;
}

export interface LineFiguresParts {
  readonly line: Line;
  readonly store: Store;
  readonly clock: Clock;
  readonly steady: Steady;
  readonly log: Log;
  readonly counts: Counts;
  readonly sound: () => boolean;
  readonly database: string | null;
  readonly spare: Spare | null;
  /** What a collector elsewhere shows; undefined = none is let in. */
  readonly token: string | undefined;
}

/** Puts them together; measuring the process begins. */
export function lineFigures(parts: LineFiguresParts): LineFigures {
  const { line, store, clock, steady, log, counts, sound, database, spare, token } = parts;
  const links = new Map([...line.options.channels.keys()].map((name) => [name, () => line.watch.stateOf(name)]));
  const process = watchProcess();
  const version = packageVersion();
  const health = () =>
    healthOf({
      store,
      clock,
      links,
      ways: (name) => line.options.channels.get(name)?.ways?.() ?? [],
      unreadable: () => line.unreadable.facts(),
      sound,
      trial: line.options.trial ?? false,
      database,
      spare,
      backupAt: async () => (await lastBackup(store)).madeAt,
    });
  const metrics = () =>
    metricsOf({
      store,
      clock,
      programmeId: line.options.content.programme.id,
      lanes,
      version,
      health,
      counts,
      process,
      conditions: () => line.watch.conditions,
      backupFaults: async () => {
        const { madeAt, faults } = await lastBackup(store);
        return madeAt === null ? null : faults;
      },
      database,
    });
  return { health, door: metricsDoor({ metrics, token: token ?? null, steady, log }), end: () => process.end() };
}
