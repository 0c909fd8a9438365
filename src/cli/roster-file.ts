/**
 * The roster as a CSV file: `name,roles,channel,address,site,locale`, roles separated by `+`. A phone that a site or a
 * laboratory shares has `shared` among its roles and its people in the name: `Ada Lumo/Beno Sarr,worker+shared,…`.
 * Spreadsheets of many languages write semicolons in place of the commas: what the header has, all lines have.
 */
import { randomBytes } from 'node:crypto';
import { isRole, roles } from '../case/roles.ts';
import { mayWriteTo, type Prefixes } from '../channels/sms/addresses.ts';
import { type ChannelFacts, channelFacts, channels } from '../conversation/channel-facts.ts';
import type { Programme } from '../conversation/programme.ts';
import type { Person } from '../conversation/world.ts';
import { foldWord } from '../text/fold.ts';
import { areNames } from '../text/one-line.ts';

const header = ['name', 'roles', 'channel', 'address', 'site', 'locale'];
const separators = [',', ';', '\t'];
const mostCharacters = 1_000_000;
const addressForms: Readonly<Record<ChannelFacts['address'], { readonly form: RegExp; readonly expected: string }>> = {
  'phone-number': { form: /^\+\d{7,15}$/, expected: 'a phone number with its country, like +0005550100' },
  'user-id': { form: /^\d{1,16}$/, expected: 'a numeric user id' },
  name: { form: /./s, expected: 'an address' },
};

export interface ReadRoster {
  readonly people: readonly Person[];
  /** One for each bad line: its number and what was expected. */
  readonly faults: readonly { readonly line: number; readonly expected: string }[];
}

/**
 * Reads a roster. Known addresses keep their person; the order of the doctors is the order of the ladder. A bad line
 * is reported and left out; the good ones still count. `prefixes`: of the phone numbers that may be written to; null = any.
 */
export function readRoster(
  text: string,
  programme: Programme,
  known: readonly Person[],
  practised: boolean,
  prefixes: Prefixes | null = null,
): ReadRoster {
  const faults: { line: number; expected: string }[] = [];
  const people: Person[] = [];
  if (text.length > mostCharacters)
    return { people, faults: [{ line: 1, expected: 'a file under one million characters' }] };
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/);
  const separator = separators.find((one) => cells(lines[0] ?? '', one).join(',') === header.join(','));
  if (separator === undefined) {
    return { people, faults: [{ line: 1, expected: header.join(',') }] };
  }
  let rank = Math.max(0, ...known.map((one) => one.rank));
  const seen = new Set<string>();
  const take = (line: string, number: number): unknown => {
    const fault = (expected: string): number => faults.push({ line: number, expected });
    const [name = '', roleWords = '', channel = '', address = '', site = '', locale = 'en', ...more] = cells(
      line,
      separator,
    );
    const said = roleWords.split('+').map((one) => one.trim());
    const shared = said.includes('shared');
    const wanted = said.filter((one) => one !== 'shared');
    const members = name.split('/').filter((one) => one.trim() !== '').length;
    if (more.length > 0) return fault('six columns');
    // A name is shown inside other people's texts: it must not be able to begin a text of its own.
    if (!areNames(name, shared)) {
      return fault('a name of 1 to 60 letters, without control characters, colons and quotation marks');
    }
    if (/[\p{Cc}\p{Cf}\p{Cs}\p{Z}]/u.test(address)) return fault('an address without spaces');
    if (shared && (members < 2 || members > 8)) return fault('2 to 8 names for a shared phone, joined by /');
    if (shared && wanted.some((one) => one === 'doctor' || one === 'coordinator')) {
      return fault("a phone of one person: doctors' and coordinators' phones are never shared");
    }
    if (wanted.length === 0 || !wanted.every(isRole)) return fault(`roles of ${roles.join(', ')}, joined by +`);
    if (!channels.some((one) => one === channel)) return fault(`a channel: ${channels.join(', ')}`);
    const { form, expected } = addressForms[channelFacts(channel).address];
    if (!form.test(address)) return fault(expected);
    if (channel === 'sms' && prefixes && !mayWriteTo(address, prefixes)) {
      return fault(`a number that begins with one of NECKLINE_SMS_PREFIXES (${prefixes.join(', ')})`);
    }
    const places = [...programme.sites.map((one) => one.id), ...programme.laboratories.map((one) => one.id)];
    if (!places.includes(site)) return fault(`a site or laboratory: ${places.join(', ')}`);
    const mark = `${channel}:${address}`;
    if (seen.has(mark)) return fault('an address that no earlier line has');
    seen.add(mark);
    const before = known.find((one) => one.addresses.some((at) => at.channel === channel && at.address === address));
    // A list kept elsewhere must not let a lost phone in again.
    if (before?.state === 'suspended') return fault('a phone that was not taken off the line: RESTORE brings it back');
    const same = before ? undefined : known.find((one) => isSame(one, name, wanted, site));
    if (same) {
      return fault(`the address that ${same.name} has now. A new phone: CHANGE ${same.name} and the number, by text`);
    }
    const twice = before ? undefined : people.find((one) => isSame(one, name, wanted, site));
    if (twice) return fault('a person whom no earlier line has: two of one name need something that tells them apart');
    const doctor = wanted.includes('doctor');
    if (doctor && !before?.rank) rank += 1;
    return people.push({
      id: before?.id ?? `p-${randomBytes(6).toString('hex')}`,
      programmeId: programme.id,
      name,
      roles: wanted,
      siteId: site,
      locale: locale === '' ? 'en' : locale,
      addresses: before?.addresses ?? [{ channel, address }],
      rank: doctor ? before?.rank || rank : 0,
      state: before?.state ?? 'joined',
      practised: before?.practised ?? practised,
      shared,
    });
  };
  lines.slice(1).forEach((line, index) => {
    if (line.trim() !== '') take(line, index + 2);
  });
  return { people, faults };
}

/** The same name at the same site, with a role in common: the same person, as far as a list can say. */
function isSame(one: Person, name: string, wanted: readonly string[], site: string): boolean {
  return (
    foldWord(one.name) === foldWord(name) && one.siteId === site && one.roles.some((role) => wanted.includes(role))
  );
}

/** Cells of one line; a cell with the separator stands in double quotes, a quote in it is doubled. */
function cells(line: string, separator: string): string[] {
  const [quotedCell, plainCell] = [
    new RegExp(`^\\s*"((?:[^"]|"")*)"\\s*(?:${separator}|$)`),
    new RegExp(`^([^${separator}]*)(?:${separator}|$)`),
  ];
  const found: string[] = [];
  let at = 0;
  while (at <= line.length) {
    const quoted = quotedCell.exec(line.slice(at));
    const plain = quoted ?? plainCell.exec(line.slice(at))!;
    found.push(quoted ? plain[1]!.replaceAll('""', '"') : plain[1]!.trim());
    at += plain[0].length;
    if (!plain[0].endsWith(separator)) break;
  }
  return found;
}
