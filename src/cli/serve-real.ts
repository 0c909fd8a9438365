/** The line on real channels. */
import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import { realParts, type Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import { durationOf } from '../conversation/programme.ts';
import { Line } from '../line/line.ts';
import type { Channel, Clock, Log, Steady } from '../line/ports.ts';
import { startRunner } from '../line/runner.ts';
import { Counts } from '../observe/counts.ts';
import { spareFile } from '../store/spare-file.ts';
import type { LineStore } from '../store/store.ts';
import { errorCode } from '../text/error-code.ts';
import { alertPost } from './alert-post.ts';
import { withOlderFlows } from './flow-versions.ts';
import { startHttp } from './http-server.ts';
import { withKeyword } from './keyword-setting.ts';
import { lineFigures } from './line-figures.ts';
import {
  allOrRefuse,
  fullDisk,
  hasNoDatabase,
  nothingLeftBytes,
  openOwnStore,
  Refused,
  refuseKeyPlace,
  settingsOrRefuse,
  soundContent,
} from './open-line.ts';
import type { Io } from './operate.ts';
import { factsOf, nothingStored, storedIn } from './ready/facts.ts';
import { standingWords, unready, unreadyNames } from './ready/start.ts';
import { unsignedOf } from './ready/to-sign.ts';
import { ended } from './signals.ts';
import { smsLink, smsSettings } from './sms-link.ts';

const clock: Clock = { now: () => Date.now() };
const steady: Steady = () => performance.now();
/** Being away for less goes unnoticed by people, ms. Line convention. */
const awayLeastMs = 5 * 60_000;
/** Morning texts within this time give the same head, ms. */
const freshHeadMs = 12 * 3_600_000;

/**
 * Serves until the process is told to end. Refuses, with one line a fault, what could not work or could hurt. `trial`: also
 * where the programme is incomplete, and everybody is told.
 */
export async function serveReal(settings: Settings, log: Log, io: Io, trial: boolean): Promise<void> {
  const counts = new Counts();
  const hasSms = realParts(settings).includes('SMS');
  const hasTelegram = settings.NECKLINE_TELEGRAM_TOKEN !== undefined;
  // Its package is loaded for nobody else.
  const link = hasTelegram ? await import('./telegram-link.ts') : null;
  const [, content] = allOrRefuse([
    () => settingsOrRefuse(io),
    () => programmeOrRefuse(settings, trial),
    () => refuseBench(settings),
    () => refuseKeyPlace(settings),
    () => (hasSms ? smsSettings(settings) : null),
    () => link?.refuseTelegram(settings),
    () => refuseNobody(hasSms || hasTelegram),
  ]);
  const offsetAtMostMs = durationOf(content.programme, 'clock-offset');
  const sms = hasSms ? smsLink(settings, { clock, steady, log, offsetAtMostMs, zone: content.programme.zone }) : null;
  const telegram = link?.telegramLink(settings, content, steady, log) ?? null;
  const spare = settings.DATABASE_URL ? null : spareFile(join(settings.NECKLINE_DATA, 'neckline.reserve'));
  const store = await openOwnStore(io, settings, content, log, { exclusive: true, makes: true, spare });
  try {
    // At its first start: later no import lets anybody of the bench in, and the list may be long.
    if ((await store.mark('real')) === null) await refuseBenchPeople(store, content);
    const facts = factsOf(settings, content, await storedIn(store, content), clock.now());
    refuseAll(unready(facts, trial));
    await store.setMark('real', 'yes');
    if (spare && !spare.refill() && (spare.freeBytes() ?? nothingLeftBytes) < nothingLeftBytes) {
      throw new Refused(fullDisk(settings));
    }
    const served = await withOlderFlows(content, registry, store, log, clock.now());
    const recovered = await store.recoverOutbox(clock.now());
    if (recovered > 0) log.write('warn', 'texts-recovered', { count: recovered });
    const channels = new Map<string, Channel>();
    for (const link of [sms, telegram]) if (link) channels.set(link.channel.name, link.channel);
    const random = { bytes: (count: number) => randomBytes(count) };
    const dayHead = async (now: number) => {
      const { mark, erased } = await store.dailyHead(now, freshHeadMs);
      return `${mark}-${erased}`;
    };
    const restoredAt = Number(await store.mark('restored')) || null;
    const line = new Line({
      store,
      content: served,
      registry,
      clock,
      steady,
      log,
      random,
      channels,
      dayHead,
      unsigned: async () => unsignedOf(content, await storedIn(store, content)),
      trial,
      gather: () => new Promise(setImmediate),
      restoredAt,
      spare,
      meter: counts,
      postAlert: alertPost(settings, log),
    });
    const comeBack = line.comeBack(awayLeastMs);
    // Where few are told, they are told before anything else happens.
    await comeBack.next();
    const database = settings.DATABASE_URL ? null : join(settings.NECKLINE_DATA, 'neckline.db');
    const keeper = line.keeper(store, steady);
    let sound = true;
    const looked = store.isSound().then(async (found) => {
      sound = found;
      if (!found) log.write('error', 'database-damaged', {});
      await line.watch.file(found);
    });
    looked.catch((thrown) => log.write('error', 'watch-failed', { code: errorCode(thrown) }));
    const figures = lineFigures({
      line,
      store,
      clock,
      steady,
      log,
      counts,
      sound: () => sound,
      database,
      spare,
      token: settings.NECKLINE_METRICS_TOKEN,
    });
    const runner = startRunner(line, clock, log, { keeper, comeBack });
    try {
      const http = await startHttp({
        host: settings.NECKLINE_HTTP_HOST,
        port: settings.NECKLINE_HTTP_PORT,
        doors: [
          ...(sms ? [sms.door(line, () => runner.nudge())] : []),
          ...(telegram?.door ? [telegram.door] : []),
          figures.door,
        ],
        health: figures.health,
        log,
      }).catch((error: NodeJS.ErrnoException) => {
        throw error.code === 'EADDRINUSE'
          ? new Refused(`port ${settings.NECKLINE_HTTP_PORT} is taken; set NECKLINE_HTTP_PORT to another`)
          : error;
      });
      telegram?.listen(line, () => runner.nudge());
      io.stdout.write(
        `Neckline serves ${[...channels.keys()].join(', ')} at ${http.url}\n${standingWords(facts, trial)}`,
      );
      await ended();
      await Promise.all([http.close(), telegram?.stop()]);
    } finally {
      figures.end();
      await runner.stop();
      await line.idle();
    }
  } finally {
    await store.close();
  }
}

/** What of the programme can be known before the database is opened: a start that is refused makes none. */
function programmeOrRefuse(settings: Settings, trial: boolean): Content {
  const content = withKeyword(soundContent(settings), settings);
  const facts = factsOf(settings, content, nothingStored, clock.now());
  refuseAll(hasNoDatabase(settings) ? unready(facts, trial) : unreadyNames(facts, trial));
  return content;
}

function refuseAll(faults: readonly string[]): void {
  if (faults.length > 0) throw new Refused(faults.join('\n'));
}

function refuseBench(settings: Settings): void {
  if (!settings.NECKLINE_BENCH_PORT) return;
  const real = realParts(settings).join(', ');
  throw new Refused(`NECKLINE_BENCH_PORT: ${real} and the phone bench do not go together; leave it empty or 0`);
}

/** Nobody would see what is sent to a phone of the bench: a doctor there would be asked for nothing. */
async function refuseBenchPeople(store: LineStore, { programme }: Content): Promise<void> {
  const roster = await store.roster(programme.id);
  if (!roster.some(({ addresses }) => addresses.some(({ channel }) => channel === 'bench'))) return;
  throw new Refused(
    'people of the phone bench are on the roster of this database: NECKLINE_DATA (or DATABASE_URL) of a real line names one that the bench never used',
  );
}

function refuseNobody(serves: boolean): void {
  if (!serves) throw new Refused('PostgreSQL alone serves nobody: set up SMS or Telegram');
}
