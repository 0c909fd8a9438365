/** The SMS links as the settings describe them: one gateway, or two that stand in for each other. */
import type { Door } from '../channels/http.ts';
import { type Country, readCountry, readPrefixes } from '../channels/sms/addresses.ts';
import { SmsChannel } from '../channels/sms/channel.ts';
import { smsDoor } from '../channels/sms/door.ts';
import { withoutKeyword } from '../channels/sms/keyword.ts';
import { LinkClock } from '../channels/sms/link-clock.ts';
import type { GatewayMapping } from '../channels/sms/mapping.ts';
import { SmsRoutes } from '../channels/sms/routes.ts';
import { WrongSecrets } from '../channels/wrong-secrets.ts';
import type { Settings } from '../config.ts';
import type { AlarmWords } from '../conversation/hearing/alarm-words.ts';
import { cryIn } from '../conversation/hearing/cry.ts';
import { saysSos } from '../conversation/hearing/sos-spelling.ts';
import { dayText, localTime } from '../conversation/schedule.ts';
import type { Line } from '../line/line.ts';
import type { Clock, Log, Steady } from '../line/ports.ts';
import { Refused } from './open-line.ts';
import { type GatewayName, type GatewaySettings, hasSecondGateway, readGateway, readMappingOf } from './sms-gateway.ts';

export interface SmsLink {
  readonly channel: SmsRoutes;
  /** What the gateways call, once the line is there. */
  door(line: Line, nudge: () => void): Door;
}

export interface SmsLinkParts {
  readonly clock: Clock;
  readonly steady: Steady;
  readonly log: Log;
  /** See `LinkClock`. */
  readonly offsetAtMostMs: number;
  /** IANA zone in which the days of a gateway's figures begin. */
  readonly zone: string;
}

/** A gateway with its end of the line: what sends, and the clock of its network. */
interface End {
  readonly settings: GatewaySettings;
  readonly channel: SmsChannel;
  readonly linkClock: LinkClock;
}

/** Puts the links together; refuses with a line for each fault. */
export function smsLink(settings: Settings, parts: SmsLinkParts): SmsLink {
  const { log } = parts;
  const gateways = smsSettings(settings);
  const allowed = gateways[0]!.prefixes;
  const ends = gateways.map((one): End => endOf(one, allowed, gateways.length > 1, settings, parts));
  const first = (one: End): readonly string[] => (one === ends[0] ? [] : one.settings.prefixes);
  const channel = new SmsRoutes(ends.map((one) => ({ gateway: one.channel, first: first(one) })));
  if (settings.NECKLINE_SMS_GET === 'yes') log.write('warn', 'sms-get-allowed', { channel: 'sms' });
  if (settings.NECKLINE_SMS_QUERY_SECRET === 'yes') log.write('warn', 'sms-query-secret-allowed', { channel: 'sms' });
  return {
    channel,
    door: (line, nudge) => {
      const doors = ends.map((one) => doorOf(one, allowed, settings, parts, line, nudge));
      return async (request, response) => {
        for (const door of doors) if (await door(request, response)) return true;
        return false;
      };
    },
  };
}

/** The gateways of the settings, the first one first, or `Refused` with a line for each thing that is missing or wrong. */
export function smsSettings(settings: Settings): readonly GatewaySettings[] {
  const names: readonly GatewayName[] = hasSecondGateway(settings) ? ['sms', 'sms2'] : ['sms'];
  const read = names.map((name) => readGateway(settings, name));
  const faults = read.flatMap((one) => (one.ok ? [] : one.faults));
  const gateways = read.flatMap((one) => (one.ok ? [one.value] : []));
  if (gateways.length === 2) faults.push(...apartFaults(gateways[0]!, gateways[1]!));
  if (saysSos(settings.NECKLINE_SMS_KEYWORD ?? '')) faults.push('NECKLINE_SMS_KEYWORD: expected another word than SOS');
  try {
    countryOf(settings.NECKLINE_SMS_COUNTRY);
  } catch (error) {
    faults.push((error as Error).message);
  }
  if (faults.length > 0) throw new Refused(faults.join('\n'));
  return gateways;
}

/** What two gateways may not share, and what the second may not go beyond. */
function apartFaults(one: GatewaySettings, two: GatewaySettings): readonly string[] {
  const isAllowed = (own: string): boolean => one.prefixes.some((prefix) => own.startsWith(prefix));
  return [
    ...(two.prefixes.every(isAllowed)
      ? []
      : ['NECKLINE_SMS2_PREFIXES: expected prefixes that NECKLINE_SMS_PREFIXES allows']),
    ...(two.secrets.some((secret) => one.secrets.includes(secret))
      ? ['NECKLINE_SMS2_SECRET: expected another secret than NECKLINE_SMS_SECRET']
      : []),
  ];
}

function endOf(
  own: GatewaySettings,
  allowed: readonly string[],
  isOneOfTwo: boolean,
  settings: Settings,
  { clock, steady, log, offsetAtMostMs, zone }: SmsLinkParts,
): End {
  const linkClock = new LinkClock(offsetAtMostMs);
  const { name, mapping, account, secrets, perSecond, perDay } = own;
  const channel = new SmsChannel({
    name,
    label: isOneOfTwo ? `SMS ${name === 'sms' ? 1 : 2}` : 'SMS',
    mapping,
    account,
    prefixes: allowed,
    secrets,
    reportUrl: `http://neckline:${encodeURIComponent(secrets[0]!)}@${placeOf(settings)}/${name}/report`,
    perSecond,
    perDay,
    dayOf: (now) => dayText(localTime(now, zone)),
    linkClock,
    clock,
    steady,
    log,
  });
  return { settings: own, channel, linkClock };
}

/** How much of a danger the words of a text say: a word in front can be one of theirs (`neck is tense`). */
function urgencyOf(text: string, languages: readonly AlarmWords[]): number {
  return saysSos(text) ? 3 : ['soon', 'now'].indexOf(cryIn(text, languages) ?? '') + 1;
}

function doorOf(
  { settings: own, channel, linkClock }: End,
  allowed: readonly string[],
  settings: Settings,
  { clock, steady, log }: SmsLinkParts,
  line: Line,
  nudge: () => void,
): Door {
  const languages = line.options.content.texts.alarmWords(null);
  const keyword = settings.NECKLINE_SMS_KEYWORD;
  const wordsOf = (text: string): string => {
    const words = keyword === undefined ? text : withoutKeyword(text, keyword);
    return urgencyOf(text, languages) > urgencyOf(words, languages) ? text : words;
  };
  return smsDoor({
    name: own.name,
    mapping: own.mapping,
    secrets: own.secrets,
    prefixes: allowed,
    country: countryOf(settings.NECKLINE_SMS_COUNTRY),
    own: own.account.number,
    allowGet: settings.NECKLINE_SMS_GET === 'yes',
    secretInQuery: settings.NECKLINE_SMS_QUERY_SECRET === 'yes',
    wrong: new WrongSecrets({ now: steady, log, channel: 'sms' }),
    linkClock,
    clock,
    log,
    line: {
      hear: async ({ from, id, words, moreKeys, text, networkAt, part }) => {
        channel.noteCall('text');
        const sender = { channel: 'sms', address: from };
        const said = part === null || part.number === 1 ? wordsOf(text) : text;
        const hear = (key: string, more: readonly string[]) =>
          part
            ? line.hearPart(sender, key, { ...part, networkAt }, said, more)
            : line.hearText(sender, key, said, networkAt, more);
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
        channel.noteCall('report');
        await line.noteReport('sms', id, status);
        nudge();
      },
      unreadable: async (call) => {
        const told = await line.unreadable.note(call);
        nudge();
        return told;
      },
      unknownForm: (from) => line.unreadable.noteSender(from),
    },
  });
}

/** Where the line listens, for a gateway on this machine: one that listens everywhere is reached by the loopback address. */
export function placeOf(settings: Settings): string {
  const { NECKLINE_HTTP_HOST: host, NECKLINE_HTTP_PORT: port } = settings;
  const reached = host === '0.0.0.0' || host === '::' ? '127.0.0.1' : host;
  return `${reached.includes(':') ? `[${reached}]` : reached}:${port}`;
}

/** The mapping of a gateway that the settings name, or `Refused`. */
export function mappingOf(settings: Settings, name: GatewayName = 'sms'): GatewayMapping {
  const read = readMappingOf(settings, name);
  if (typeof read === 'string') throw new Refused(read);
  return read;
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
