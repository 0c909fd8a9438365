/** The SMS link as the settings describe it. */
import { readFileSync } from 'node:fs';
import type { Door } from '../channels/http.ts';
import { type Country, readCountry, readPrefixes } from '../channels/sms/addresses.ts';
import { SmsChannel } from '../channels/sms/channel.ts';
import { smsDoor } from '../channels/sms/door.ts';
import { kannel } from '../channels/sms/kannel.ts';
import { LinkClock } from '../channels/sms/link-clock.ts';
import type { GatewayMapping } from '../channels/sms/mapping.ts';
import { readMapping } from '../channels/sms/mapping-file.ts';
import { readSecrets } from '../channels/sms/secrets.ts';
import { WrongSecrets } from '../channels/wrong-secrets.ts';
import type { Settings } from '../config.ts';
import type { Line } from '../line/line.ts';
import type { Clock, Log, Steady } from '../line/ports.ts';
import { Refused } from './open-line.ts';

export interface SmsLink {
  readonly channel: SmsChannel;
  /** What the gateway calls, once the line is there. */
  door(line: Line, nudge: () => void): Door;
}

const needed = [
  'NECKLINE_SMS_GATEWAY',
  'NECKLINE_SMS_SEND_URL',
  'NECKLINE_SMS_NUMBER',
  'NECKLINE_SMS_SECRET',
  'NECKLINE_SMS_PREFIXES',
] as const;

export interface SmsLinkParts {
  readonly clock: Clock;
  readonly steady: Steady;
  readonly log: Log;
  /** See `LinkClock`. */
  readonly offsetAtMostMs: number;
}

/** Puts the link together; refuses with one line for what is missing. */
export function smsLink(settings: Settings, { clock, steady, log, offsetAtMostMs }: SmsLinkParts): SmsLink {
  const missing = needed.filter((name) => settings[name] === undefined);
  if (missing.length > 0) throw new Refused(`SMS needs ${missing.join(', ')}`);
  const mapping = mappingOf(settings);
  const secrets = readSecrets(settings.NECKLINE_SMS_SECRET!);
  const prefixes = prefixesOf(settings.NECKLINE_SMS_PREFIXES!);
  const country = countryOf(settings.NECKLINE_SMS_COUNTRY);
  const linkClock = new LinkClock(offsetAtMostMs);
  const pass = encodeURIComponent(secrets[0]!);
  const channel = new SmsChannel({
    mapping,
    account: {
      sendUrl: settings.NECKLINE_SMS_SEND_URL!,
      user: settings.NECKLINE_SMS_USER ?? '',
      password: settings.NECKLINE_SMS_PASSWORD ?? '',
      number: settings.NECKLINE_SMS_NUMBER!,
    },
    prefixes,
    secrets,
    reportUrl: `http://neckline:${pass}@${placeOf(settings)}/sms/report`,
    linkClock,
    clock,
    steady,
    log,
  });
  const allowGet = settings.NECKLINE_SMS_GET === 'yes';
  if (allowGet) log.write('warn', 'sms-get-allowed', { channel: 'sms' });
  const secretInQuery = settings.NECKLINE_SMS_QUERY_SECRET === 'yes';
  if (secretInQuery) log.write('warn', 'sms-query-secret-allowed', { channel: 'sms' });
  return {
    channel,
    door: (line, nudge) =>
      smsDoor({
        mapping,
        secrets,
        prefixes,
        country,
        own: settings.NECKLINE_SMS_NUMBER!,
        allowGet,
        secretInQuery,
        wrong: new WrongSecrets({ now: steady, log, channel: 'sms' }),
        linkClock,
        clock,
        log,
        line: {
          hear: async ({ from, id, words, moreKeys, text, networkAt, part }) => {
            const sender = { channel: channel.name, address: from };
            const hear = (key: string, more: readonly string[]) =>
              part
                ? line.hearPart(sender, key, { ...part, networkAt }, text, more)
                : line.hearText(sender, key, text, networkAt, more);
            let handled = await hear(id, moreKeys);
            // Under a used id other words are another text.
            if (handled === 'duplicate')
              handled = await hear(
                words,
                moreKeys.filter((one) => one !== words),
              );
            if (handled === 'duplicate') await line.noteKey(id);
            nudge();
            return handled;
          },
          report: async (id, status) => {
            await line.store.report(id, status, clock.now());
            nudge();
          },
          unreadable: async (call) => {
            const told = await line.unreadable.note(call);
            nudge();
            return told;
          },
          unknownForm: (from) => line.unreadable.noteSender(from),
        },
      }),
  };
}

/** Where the line listens, for a gateway on this machine: one that listens everywhere is reached by the loopback address. */
export function placeOf(settings: Settings): string {
  const { NECKLINE_HTTP_HOST: host, NECKLINE_HTTP_PORT: port } = settings;
  const reached = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
  return `${reached.includes(':') ? `[${reached}]` : reached}:${port}`;
}

/** The mapping of the gateway that the settings name, or `Refused`. */
export function mappingOf(settings: Settings): GatewayMapping {
  if (settings.NECKLINE_SMS_GATEWAY === 'kannel') return kannel;
  const file = settings.NECKLINE_SMS_MAPPING;
  if (file === undefined) throw new Refused('NECKLINE_SMS_GATEWAY is generic: NECKLINE_SMS_MAPPING must name its file');
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    throw new Refused('NECKLINE_SMS_MAPPING: cannot be read');
  }
  const read = readMapping(text);
  if (!read.ok) throw new Refused(`NECKLINE_SMS_MAPPING: ${read.fault}`);
  return read.value;
}

/** Prefixes of the settings, or `Refused`. */
export function prefixesOf(text: string): readonly string[] {
  try {
    const prefixes = readPrefixes(text);
    if (prefixes.length > 0) return prefixes;
  } catch {
    // Said below.
  }
  throw new Refused('NECKLINE_SMS_PREFIXES: expected prefixes such as +999, separated by commas');
}

/** Country of the settings, null where none is set, or `Refused`. */
export function countryOf(text: string | undefined): Country | null {
  if (text === undefined) return null;
  try {
    return readCountry(text);
  } catch {
    const form =
      'a code and the digits of a number behind it, such as +999/9, and a trunk digit other than 0 as +999/9/8';
    throw new Refused(`NECKLINE_SMS_COUNTRY: expected ${form}`);
  }
}
