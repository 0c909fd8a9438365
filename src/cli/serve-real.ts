/** The line on real channels. */
import { randomBytes } from 'node:crypto';
import { join } from 'node:path';
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import { durationOf, type Site } from '../conversation/programme.ts';
import { Line } from '../line/line.ts';
import type { Channel, Clock, Log, Steady } from '../line/ports.ts';
import { startRunner } from '../line/runner.ts';
import { healthOf } from '../observe/health.ts';
import { spareFile } from '../store/spare-file.ts';
import { errorCode } from '../text/error-code.ts';
import { withOlderFlows } from './flow-versions.ts';
import { startHttp } from './http-server.ts';
import { fullDisk, nothingLeftBytes, openOwnStore, Refused, soundContent } from './open-line.ts';
import { ended } from './signals.ts';
import { smsLink } from './sms-link.ts';

const clock: Clock = { now: () => Date.now() };
const steady: Steady = () => performance.now();
/** Being away for less goes unnoticed by people, ms. Line convention. */
const awayLeastMs = 5 * 60_000;
/** Morning texts within this time give the same head, ms. */
const freshHeadMs = 12 * 3_600_000;

/** Serves until the process is told to end. Refuses, with one line a fault, what could not work or could hurt. */
export async function serveReal(
  settings: Settings,
  log: Log,
  io: { readonly stdout: { write(text: string): unknown } },
): Promise<void> {
  const content = soundContent(settings);
  const offsetAtMostMs = durationOf(content.programme, 'clock-offset');
  const hasSms = settings.NECKLINE_SMS_GATEWAY !== undefined || settings.NECKLINE_SMS_SEND_URL !== undefined;
  const sms = hasSms ? smsLink(settings, { clock, steady, log, offsetAtMostMs }) : null;
  // Its package is loaded for nobody else.
  const telegram = settings.NECKLINE_TELEGRAM_TOKEN
    ? (await import('./telegram-link.ts')).telegramLink(settings, content, steady, log)
    : null;
  if (!sms && !telegram) throw new Refused('PostgreSQL alone serves nobody: set up SMS or Telegram');
  const faults = programmeFaults(content);
  if (faults.length > 0) throw new Refused(faults.join('\n'));
  const spare = settings.DATABASE_URL ? null : spareFile(join(settings.NECKLINE_DATA, 'neckline.reserve'));
  const store = await openOwnStore(settings, content, log, true, spare);
  try {
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
      restoredAt,
      spare,
    });
    const comeBack = line.comeBack(awayLeastMs);
    // Where few are told, they are told before anything else happens.
    await comeBack.next();
    const links = new Map([...channels.keys()].map((name) => [name, () => line.watch.stateOf(name)]));
    const database = settings.DATABASE_URL ? null : join(settings.NECKLINE_DATA, 'neckline.db');
    const keeper = line.keeper(store, steady);
    let sound = true;
    const looked = store.isSound().then(async (found) => {
      sound = found;
      if (!found) log.write('error', 'database-damaged', {});
      await line.watch.file(found);
    });
    looked.catch((thrown) => log.write('error', 'watch-failed', { code: errorCode(thrown) }));
    const runner = startRunner(line, clock, log, { keeper, comeBack });
    try {
      const http = await startHttp({
        host: settings.NECKLINE_HTTP_HOST,
        port: settings.NECKLINE_HTTP_PORT,
        doors: [...(sms ? [sms.door(line, () => runner.nudge())] : []), ...(telegram?.door ? [telegram.door] : [])],
        health: () =>
          healthOf({
            store,
            clock,
            links,
            unreadable: () => line.unreadable.facts(),
            sound: () => sound,
            database,
            spare,
          }),
        log,
      }).catch((error: NodeJS.ErrnoException) => {
        throw error.code === 'EADDRINUSE'
          ? new Refused(`port ${settings.NECKLINE_HTTP_PORT} is taken; set NECKLINE_HTTP_PORT to another`)
          : error;
      });
      telegram?.listen(line, () => runner.nudge());
      io.stdout.write(`Neckline serves ${[...channels.keys()].join(', ')} at ${http.url}\n`);
      await ended();
      await Promise.all([http.close(), telegram?.stop()]);
    } finally {
      await runner.stop();
      await line.idle();
    }
  } finally {
    await store.close();
  }
}

/** What a programme must say before real people depend on it: whom to call when the line cannot help, and where to go. */
function programmeFaults({ programme }: Content): readonly string[] {
  const places = [programme, ...programme.sites];
  // A site without a place of its own has the programme's, of which it is said once.
  const differs = (place: Place, name: keyof Place): boolean => place === programme || place[name] !== programme[name];
  return places.flatMap((place) => {
    const where = place === programme ? 'programme' : `programme: site ${place.id}`;
    const faults: string[] = [];
    if (differs(place, 'voiceNumber') && !/^\+?[\d ]{3,20}$/.test(place.voiceNumber)) {
      faults.push(`${where}: voiceNumber: expected a number that can be dialled`);
    }
    if (differs(place, 'hospital') && place.hospital.trim() === '') {
      faults.push(`${where}: hospital: expected the hospital to refer to`);
    }
    if (differs(place, 'night') && place.night.trim() === '') {
      faults.push(`${where}: night: expected the place to go at night`);
    }
    return faults;
  });
}

type Place = Pick<Site, 'hospital' | 'night' | 'voiceNumber'>;
