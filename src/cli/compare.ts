/** `neckline compare FILE`: texts that the gateway took from its network and that the line never got. */
import { setTimeout as sleep } from 'node:timers/promises';
import { accessLogReader } from '../channels/sms/access-log.ts';
import type { Settings } from '../config.ts';
import { parseDuration } from '../content/duration.ts';
import type { Content } from '../content/load.ts';
import type { LineStore } from '../store/store.ts';
import { type Asked, askAgain } from './ask-again.ts';
import { type Comparison, compareWith, readTexts } from './comparison.ts';
import { allOrRefuse, Refused } from './open-line.ts';
import { commandParts, type Io, operate, readWords, withStore } from './operate.ts';
import type { GatewayName } from './sms-gateway.ts';
import { countryOf, mappingOf, placeOf, prefixesOf } from './sms-link.ts';

const usage = `neckline compare FILE... [--since 72h] [--second] [--ask [--wait 20s]]

After an outage: reads the access log of the SMS gateway (its older files too, oldest first) and finds the texts that
the gateway took and the line never did. Prints counts, and of each text the instant, the gateway's id, and whether its
sender is on the line; no number, no name. Exit code 1 when some are missing.

--since   how far back (default 72h)
--second  the log is the one of the second gateway (NECKLINE_SMS2_...)
--ask     asks each sender who is on the line to send it again, once however often this is run, and tells the
          coordinators. The line must run: what the gateway still holds is looked for again after --wait
--wait    how long the gateway gets for that (default 20s). 0s asks at once, for a gateway that holds nothing any more
`;

/** Longest look back: the table keeps keys for longer. */
const sinceAtMostMs = 30 * 86_400_000;
const waitAtMostMs = 10 * 60_000;
/** How long a running line may take to say that it runs, ms. */
const answersWithinMs = 5_000;
/** Texts listed one by one. */
const listedAtMost = 200;

/** Runs the command. */
export function runCompare(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--since', '--wait'], ['--ask', '--second']);
  const sinceMs = parseDuration(read?.given['--since'] ?? '72h');
  const wait = read?.given['--wait'] ?? '20s';
  const waitMs = wait === '0s' ? 0 : parseDuration(wait);
  const asks = read?.given['--ask'] === 'yes';
  const gateway = read?.given['--second'] === 'yes' ? 'sms2' : 'sms';
  const sound =
    read && read.words.length > 0 && sinceMs !== null && waitMs !== null && (asks || !('--wait' in read.given));
  if (!sound || sinceMs > sinceAtMostMs || waitMs > waitAtMostMs) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, () =>
    withStore(io, (store, content) => compare(store, content, read.words, { sinceMs, asks, waitMs, gateway }, io)),
  );
}

interface Wish {
  readonly sinceMs: number;
  readonly asks: boolean;
  readonly waitMs: number;
  readonly gateway: GatewayName;
}

async function compare(
  store: LineStore,
  content: Content,
  files: readonly string[],
  wish: Wish,
  io: Io,
): Promise<number> {
  const { settings } = commandParts(io);
  const { NECKLINE_SMS_GATEWAY: gateway, NECKLINE_SMS_PREFIXES: allowed } = settings;
  if (!gateway || !allowed) throw new Refused('SMS needs NECKLINE_SMS_GATEWAY, NECKLINE_SMS_PREFIXES');
  const [{ accessLog }, prefixes, country] = allOrRefuse([
    () => mappingOf(settings, wish.gateway),
    () => prefixesOf(allowed),
    () => countryOf(settings.NECKLINE_SMS_COUNTRY),
  ]);
  const own = wish.gateway === 'sms' ? 'NECKLINE_SMS' : 'NECKLINE_SMS2';
  if (accessLog === null) throw new Refused(`${own}_MAPPING: accessLog: expected how its log writes a text`);
  if (wish.asks && wish.waitMs > 0 && !(await runs(settings))) {
    throw new Refused('the line does not run: the gateway may still hold texts for it. Start it first, or --wait 0s');
  }
  const now = Date.now();
  const reader = accessLogReader(accessLog, prefixes, country, wish.gateway);
  const { texts, lines, found } = await readTexts(files, reader, now - wish.sinceMs);
  if (found === 0) {
    io.stdout.write(`no text in ${lines} lines: is this the access log, in the format of deploy/kannel.conf?\n`);
    return 1;
  }
  const { id: programmeId } = content.programme;
  let result = await compareWith(store, programmeId, texts);
  if (wish.asks && wish.waitMs > 0 && result.missing.length > 0) {
    await sleep(wish.waitMs);
    result = await compareWith(store, programmeId, texts);
  }
  io.stdout.write(wordsOf(result, now - wish.sinceMs));
  if (!wish.asks || result.missing.length === 0) return result.missing.length === 0 ? 0 : 1;
  const asked = await askAgain(store, content, result.missing, Date.now());
  if (asked === 'other-run') throw new Refused('somebody else asks at this moment; run it again');
  io.stdout.write(askedWords(asked));
  return 0;
}

/** Whether a line listens where these settings say, well or not. */
async function runs(settings: Settings): Promise<boolean> {
  try {
    const answer = await fetch(`http://${placeOf(settings)}/health`, { signal: AbortSignal.timeout(answersWithinMs) });
    await answer.body?.cancel();
    return true;
  } catch {
    return false;
  }
}

function wordsOf({ taken, again, missing }: Comparison, since: number): string {
  const lines = [
    `${taken + again + missing.length} texts since ${new Date(since).toISOString()}: ${taken} taken, ${again} taken under another id, ${missing.length} missing`,
    ...missing
      .slice(0, listedAtMost)
      .map(
        ({ text, standing }) =>
          `${new Date(text.at).toISOString()}\t${text.key.slice(text.key.indexOf(':') + 1)}\t${standing}`,
      ),
  ];
  if (missing.length > listedAtMost) lines.push(`and ${missing.length - listedAtMost} more`);
  return `${lines.join('\n')}\n`;
}

function askedWords({ people, texts, before }: Asked): string {
  const earlier = before === 0 ? '' : `; of ${before} they were asked before`;
  return `${people} people asked to send ${texts} texts again${earlier}\n`;
}
