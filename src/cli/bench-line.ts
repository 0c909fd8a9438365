/** The line of the phone bench: opened on its own database, and begun anew when somebody asks for it. */
import { randomBytes } from 'node:crypto';
import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { BenchChannel } from '../channels/bench/channel.ts';
import { BenchClock, firstMorning } from '../channels/bench/clock.ts';
import { withShownNumbers } from '../channels/bench/numbers.ts';
import type { BenchLine } from '../channels/bench/server.ts';
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import { Line } from '../line/line.ts';
import type { Log } from '../line/ports.ts';
import { startRunner } from '../line/runner.ts';
import { healthOf } from '../observe/health.ts';
import type { LineStore } from '../store/store.ts';
import { putDemoRoster } from './demo-roster.ts';
import { withOlderFlows } from './flow-versions.ts';
import { type Given, openOwnStore, Refused } from './open-line.ts';

export interface OpenBenchLine extends BenchLine {
  /** Ends the line in order; a second time does nothing. */
  close(): Promise<void>;
}

/** What the settings of a start give. */
export interface BenchSetting {
  readonly given: Given;
  readonly settings: Settings;
  readonly content: Content;
  readonly log: Log;
}

const clockFile = ({ NECKLINE_DATA: data }: Settings): string => join(data, 'demo', 'clock.json');

/** Opens the database of the bench, its demo roster on it, and runs the line. A fresh one begins on a working morning. */
export async function openBenchLine({ given, settings, content, log }: BenchSetting): Promise<OpenBenchLine> {
  const store = await openOwnStore(given, settings, content, log, { exclusive: true, makes: true });
  try {
    await refuseReal(store);
    const programme = withShownNumbers(content.programme);
    const served = await withOlderFlows({ ...content, programme }, registry, store, log, Date.now());
    const isFresh = await putDemoRoster(store, content, settings);
    const clock = new BenchClock(clockFile(settings));
    if (isFresh) clock.moveTo(firstMorning(clock.now(), programme.zone));
    await store.recoverOutbox(clock.now());
    const channel = new BenchChannel((id, at) => store.report(id, 'delivered', at), clock);
    const line = new Line({
      store,
      content: served,
      registry,
      clock,
      steady: () => performance.now(),
      log,
      random: { bytes: (count) => randomBytes(count) },
      channels: new Map([[channel.name, channel]]),
      gather: () => new Promise(setImmediate),
    });
    const runner = startRunner(line, clock, log);
    const end = async (): Promise<void> => {
      try {
        await runner.stop();
        await line.idle();
      } finally {
        await store.close();
      }
    };
    let ended: Promise<void> | null = null;
    return {
      line,
      clock,
      channel,
      nudge: () => runner.nudge(),
      health: () => healthOf({ store, clock, links: new Map(), database: null }),
      close: () => {
        ended ??= end();
        return ended;
      },
    };
  } catch (error) {
    await store.close();
    throw error;
  }
}

async function refuseReal(store: LineStore): Promise<void> {
  if ((await store.mark('real')) === null) return;
  throw new Refused('this database was used by a real channel: the phone bench does not run on it');
}

/** True: the bench can empty its database, a file of its own. */
export function canEmpty({ DATABASE_URL }: Settings): boolean {
  return !DATABASE_URL;
}

/** Takes away what was written on the bench, and how far its clock was moved; the line on it has ended. Key and roster file stay. */
export function emptyBench(settings: Settings): void {
  const database = join(settings.NECKLINE_DATA, 'neckline.db');
  for (const end of ['-wal', '-shm', '']) rmSync(`${database}${end}`, { force: true });
  rmSync(clockFile(settings), { force: true });
}
