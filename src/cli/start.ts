/** `neckline start`: runs the line. With nothing configured, on the phone bench. */
import { join } from 'node:path';
import { startBench } from '../channels/bench/server.ts';
import { realParts, type Settings } from '../config.ts';
import { benchWordsOf } from '../content/bench-words.ts';
import { packageRoot } from '../content/load.ts';
import { loadTraining } from '../content/scenarios.ts';
import type { Log } from '../line/ports.ts';
import { jsonLog } from '../observe/log.ts';
import { benchLanguage } from './bench-language.ts';
import { canEmpty, emptyBench, type OpenBenchLine, openBenchLine } from './bench-line.ts';
import { fullDisk, isOfFullDisk, Refused, settingsAndContent, soundSettings } from './open-line.ts';
import type { Io } from './operate.ts';
import { unreadLine } from './readers.ts';
import { ended } from './signals.ts';

const usage = `neckline start [--trial]

Runs the line until it is told to end (SIGTERM, Ctrl-C). With nothing configured it keeps an embedded database under
./data and serves the phone bench: a page on this machine with simulated phones. With a programme of your own alone
(NECKLINE_PROGRAMME) the bench has phones at its clinics and laboratories, and its data under ./data/own: nobody is
dialled. With an SMS gateway or Telegram configured it serves those instead. Settings: see deploy/.

On real channels it starts only where the programme is complete: two doctors, a coordinator, a laboratory for each clinic,
and none of the package's invented names (neckline ready says what is missing and how to mend it).
--trial  starts all the same, and says so in the first text to each person, every morning to the coordinators and in
         /health. A number to call and a place to go are needed even then: an SOS of a trial may be a real one.
`;

/** Runs the command; resolves when the line has ended in order. 2 when it may not or cannot start. */
export async function runStart(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return 0;
  }
  const trial = args[0] === '--trial';
  if (args.length > (trial ? 1 : 0)) {
    io.stderr.write(usage);
    return 2;
  }
  try {
    await serve(trial, io);
    return 0;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    io.stderr.write(`${error.message}\n`);
    return 2;
  }
}

async function serve(trial: boolean, io: Io): Promise<void> {
  const settings = soundSettings(io);
  const log = jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG);
  if (realParts(settings).length === 0) {
    if (trial) throw new Refused('--trial is for real channels: on the phone bench everything is one');
    await serveBench(settings, log, io).catch((error: unknown) => refuseFullDisk(error, settings));
    return;
  }
  // Loaded when needed: the phone bench starts without what only real channels use.
  const { serveReal } = await import('./serve-real.ts');
  await serveReal(settings, log, io, trial).catch((error: unknown) => refuseFullDisk(error, settings));
}

function refuseFullDisk(error: unknown, settings: Settings): never {
  throw isOfFullDisk(error, settings) ? new Refused(fullDisk(settings)) : error;
}

async function serveBench(settings: Settings, log: Log, io: Io): Promise<void> {
  const [, content, port] = settingsAndContent(io, benchPortOf);
  const setting = { given: io, settings, content, log };
  const language = benchLanguage(settings, content);
  let running = await openBenchLine(setting);
  const renew = async (): Promise<OpenBenchLine> => {
    await running.close();
    emptyBench(settings);
    running = await openBenchLine(setting);
    return running;
  };
  try {
    const bench = await startBench({
      ...running,
      port,
      log,
      pageFolder: join(packageRoot, 'dist', 'bench'),
      words: benchWordsOf(packageRoot, language),
      language,
      training: loadTraining(content, packageRoot, language),
      ...(canEmpty(settings) ? { renew } : {}),
    }).catch((error: NodeJS.ErrnoException) => {
      throw error.code === 'EADDRINUSE'
        ? new Refused(`port ${port} is taken; set NECKLINE_BENCH_PORT to another`)
        : error;
    });
    io.stdout.write(`Phone bench: ${bench.url}\n${unreadLine(content.sources.locales)}`);
    await ended();
    await bench.close();
  } finally {
    await running.close();
  }
}

function benchPortOf({ NECKLINE_BENCH_PORT: port = 8085 }: Settings): number {
  if (port > 0) return port;
  throw new Refused('NECKLINE_BENCH_PORT: it is 0 and no other channel is configured: there is nothing to serve');
}
