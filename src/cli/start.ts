/** `neckline start`: runs the line. With nothing configured, on the phone bench. */
import { randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { BenchChannel } from '../channels/bench/channel.ts';
import { BenchClock } from '../channels/bench/clock.ts';
import { startBench } from '../channels/bench/server.ts';
import { realParts, type Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import { Line } from '../line/line.ts';
import type { Log } from '../line/ports.ts';
import { startRunner } from '../line/runner.ts';
import { healthOf } from '../observe/health.ts';
import { jsonLog } from '../observe/log.ts';
import type { LineStore } from '../store/store.ts';
import { withOlderFlows } from './flow-versions.ts';
import { fullDisk, isOfFullDisk, openOwnStore, Refused, settingsOrRefuse, soundContent } from './open-line.ts';
import { readRoster } from './roster-file.ts';
import { ended } from './signals.ts';

const usage = `neckline start

Runs the line until it is told to end (SIGTERM, Ctrl-C). With nothing configured it keeps an embedded database under
./data and serves the phone bench: a page on this machine with simulated phones. With an SMS gateway or Telegram
configured it serves those instead. Settings: see deploy/.
`;

/** Invented people at addresses that cannot be dialled. */
const demoRoster = `name,roles,channel,address,site,locale
Ada Lumo,worker,bench,bench:worker,oruma,en
Beno Sarr,worker,bench,bench:worker2,oruma,en
Dr Tano,doctor,bench,bench:doctor,oruma,en
Dr Imre,doctor,bench,bench:doctor2,oruma,en
Lio Marek,lab,bench,bench:lab,velin,en
Sela Rune,coordinator,bench,bench:coordinator,oruma,en
`;

interface Io {
  readonly stdout: { write(text: string): unknown };
  readonly stderr: { write(text: string): unknown };
}

/** Runs the command; resolves when the line has ended in order. 2 when it may not or cannot start. */
export async function runStart(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return 0;
  }
  if (args.length > 0) {
    io.stderr.write(usage);
    return 2;
  }
  try {
    await serve(io);
    return 0;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    io.stderr.write(`${error.message}\n`);
    return 2;
  }
}

async function serve(io: Io): Promise<void> {
  const settings = settingsOrRefuse();
  const log = jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG);
  const real = realParts(settings);
  const { NECKLINE_BENCH_PORT: benchPort } = settings;
  if (real.length === 0) {
    if (benchPort === 0) {
      throw new Refused('NECKLINE_BENCH_PORT is 0 and no other channel is configured: there is nothing to serve');
    }
    await serveBench(settings, log, benchPort ?? 8085, io).catch((error: unknown) => refuseFullDisk(error, settings));
    return;
  }
  if (benchPort !== undefined && benchPort !== 0) {
    throw new Refused(`${real.join(', ')} and the phone bench: NECKLINE_BENCH_PORT must be empty or 0`);
  }
  // Loaded when needed: the phone bench starts without what only real channels use.
  const { serveReal } = await import('./serve-real.ts');
  await serveReal(settings, log, io).catch((error: unknown) => refuseFullDisk(error, settings));
}

function refuseFullDisk(error: unknown, settings: Settings): never {
  throw isOfFullDisk(error, settings) ? new Refused(fullDisk(settings)) : error;
}

async function serveBench(settings: Settings, log: Log, port: number, io: Io): Promise<void> {
  const content = soundContent(settings);
  const store = await openOwnStore(settings, content, log, true);
  try {
    if ((await store.mark('real')) !== null) {
      throw new Refused('this database was used by a real channel: the phone bench does not run on it');
    }
    const served = await withOlderFlows(content, registry, store, log, Date.now());
    await putDemoRoster(store, content, settings.NECKLINE_DATA);
    const clock = new BenchClock(join(settings.NECKLINE_DATA, 'demo', 'clock.json'));
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
    });
    const runner = startRunner(line, clock, log);
    try {
      const bench = await startBench({
        port,
        line,
        clock,
        channel,
        nudge: () => runner.nudge(),
        log,
        programmeId: content.programme.id,
        zone: content.programme.zone,
        health: () => healthOf({ store, clock, links: new Map(), database: null }),
      }).catch((error: NodeJS.ErrnoException) => {
        throw error.code === 'EADDRINUSE'
          ? new Refused(`port ${port} is taken; set NECKLINE_BENCH_PORT to another`)
          : error;
      });
      io.stdout.write(`Phone bench: ${bench.url}\n`);
      await ended();
      await bench.close();
    } finally {
      await runner.stop();
      await line.idle();
    }
  } finally {
    await store.close();
  }
}

/** On the first start only: whoever leaves the line later is not called back by a restart. */
async function putDemoRoster(store: LineStore, content: Content, data: string): Promise<void> {
  if ((await store.mark('demo-roster')) !== null) return;
  const folder = join(data, 'demo');
  const file = join(folder, 'roster.csv');
  mkdirSync(folder, { recursive: true });
  if (!existsSync(file)) writeFileSync(file, demoRoster);
  const known = await store.roster(content.programme.id);
  const { people, faults } = readRoster(readFileSync(file, 'utf8'), content, known, true);
  if (faults.length > 0) throw new Refused(`${file}:${faults[0]!.line}: expected ${faults[0]!.expected}`);
  const fresh = people.filter((one) => !known.some((old) => old.id === one.id));
  if (fresh.length > 0) await store.putPeople(fresh);
  await store.setMark('demo-roster', 'written');
}
