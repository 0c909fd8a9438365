/**
 * The roster as a CSV file: `name,roles,channel,address,site,locale`, roles separated by `+`. A phone that a site or a
 * laboratory shares has `shared` among its roles and its people in the name: `Ada Lumo/Beno Sarr,worker+shared,…`. Somebody with
 * an address on each of two channels has both, in the same order: `Dr Tano,doctor,sms|telegram,+0005550101|7001001,…`.
 * Spreadsheets of many languages write semicolons in place of the commas: what the header has, all lines have.
 */
import { randomBytes } from 'node:crypto';
import { isRole, roles } from '../case/roles.ts';
import { mayWriteTo, type Prefixes } from '../channels/sms/addresses.ts';
import { type ChannelFacts, channelFacts, channels } from '../conversation/channel-facts.ts';
import type { Content } from '../conversation/content.ts';
import { readsLikeTheLine } from '../conversation/name-words.ts';
import type { Texts } from '../conversation/texts.ts';
import type { Address, Person } from '../conversation/world.ts';
import { foldWord } from '../text/fold.ts';
import { areNames } from '../text/one-line.ts';

const header = ['name', 'roles', 'channel', 'address', 'site', 'locale'];
const headerForm = `the header ${header.join(',')} in small letters (commas, semicolons or tabs between them), and an address of each person as it is dialled, with the country's code, like +000555010001`;
const separators = [',', ';', '\t'];
const mostCharacters = 1_000_000;
const addressForms: Readonly<Record<ChannelFacts['address'], { readonly form: RegExp; readonly expected: string }>> = {
  'phone-number': { form: /^\+\d{7,15}$/, expected: "a phone number with the country's code, like +000555010001" },
  'user-id': { form: /^\d{1,16}$/, expected: 'a numeric user id' },
  name: { form: /./s, expected: 'an address' },
};

export interface ReadRoster {
  /** As they are afterwards: those of the lines, the newest of each address. */
  readonly people: readonly Person[];
  /** Only with `change`: who had an address that a new person has now. */
  readonly former: readonly Former[];
  /** One for each good line, in their order. */
  readonly taken: readonly TakenLine[];
  /** One for each bad line: its number and what was expected. */
  readonly faults: readonly { readonly line: number; readonly expected: string }[];
}

/** What a line of the file came to. */
export interface TakenLine {
  readonly line: number;
  readonly as: 'new' | 'changed' | 'same';
  /** What it changes, from what to what; no name of anybody. */
  readonly changes: readonly string[];
}

/** Somebody without an address that is a new person's. */
export interface Former {
  /** As they are without it: off the line where they have no other. */
  readonly person: Person;
  /** Id of whoever has it. */
  readonly notTo: string;
  /** The same name, in another role or at another site. */
  readonly isSameOwner: boolean;
}

export interface RosterOptions {
  /** Of the phone numbers that may be written to; null = any. */
  readonly prefixes?: Prefixes | null;
  /** An address may change its owner or its role. */
  readonly change?: boolean;
}

/**
 * Reads a roster. Known addresses keep their person; the order of the doctors is the order of the ladder. A bad line
 * is reported and left out; the good ones still count. An address whose owner or role is another one is a bad line, or with
 * `change` the address of a new person, to whom nothing of the former one goes.
 */
export function readRoster(
  text: string,
  { programme, texts }: Pick<Content, 'programme' | 'texts'>,
  known: readonly Person[],
  practised: boolean,
  { prefixes = null, change = false }: RosterOptions = {},
): ReadRoster {
  const faults: { line: number; expected: string }[] = [];
  const people: Person[] = [];
  const taken: TakenLine[] = [];
  const former = new Map<string, Former>();
  const unread = (expected: string): ReadRoster => ({ people, taken, former: [], faults: [{ line: 1, expected }] });
  if (text.length > mostCharacters) return unread('a file under one million characters');
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/);
  const separator = separators.find((one) => cells(lines[0] ?? '', one).join(',') === header.join(','));
  if (separator === undefined) return unread(headerForm);
  let rank = Math.max(0, ...known.map((one) => one.rank));
  /** Whose each address is by its own line. */
  const owners = new Map<string, string>();
  const places = [...programme.sites.map((one) => one.id), ...programme.laboratories.map((one) => one.id)];
  const languages = texts.languages.map(({ tag }) => tag);
  const take = (line: string, number: number): unknown => {
    const fault = (expected: string): number => faults.push({ line: number, expected });
    const row = cells(line, separator);
    const [name = '', roleWords = '', channel = '', address = '', site = '', language = '', ...more] = row;
    const locale = language === '' ? 'en' : language;
    const said = roleWords.split('+').map((one) => one.trim());
    const shared = said.includes('shared');
    const wanted = said.filter((one) => one !== 'shared');
    if (more.length > 0) return fault('six columns');
    const badName = nameFault(texts, name, shared);
    if (badName !== null) return fault(badName);
    const links = channel.split('|').map((one) => one.trim());
    const numbers = address.split('|').map((one) => one.trim());
    if (/[\p{Cc}\p{Cf}\p{Cs}\p{Z}]/u.test(numbers.join('|'))) return fault('an address without spaces');
    if (numbers.length !== links.length) return fault('as many addresses as channels, both joined by |');
    if (new Set(links).size < links.length) return fault('one address of each channel');
    if (shared && wanted.some((one) => one === 'doctor' || one === 'coordinator')) {
      return fault("a phone of one person: doctors' and coordinators' phones are never shared");
    }
    if (wanted.length === 0 || !wanted.every(isRole)) return fault(`roles of ${roles.join(', ')}, joined by +`);
    const here = links.map((link, index): Address => ({ channel: link, address: numbers[index]! }));
    for (const at of here) {
      const expected = addressFault(at, prefixes);
      if (expected !== null) return fault(expected);
    }
    // A programme that could not be read has no places: that is its own fault, and none of this line.
    if (site === '' || (places.length > 0 && !places.includes(site))) return fault(placeForm(site, places));
    if (!languages.some((one) => one === locale || one === locale.split('-')[0])) {
      return fault(`a language that the line speaks: ${languages.join(', ')}`);
    }
    const marks = here.map(markOf);
    if (marks.some((one) => owners.has(one))) return fault('an address that no earlier line has');
    for (const one of marks) owners.set(one, '');
    const hasOneOf = (one: Person): boolean => one.addresses.some((at) => marks.includes(markOf(at)));
    const holders = known.filter(hasOneOf);
    if (holders.length > 1) {
      return fault(`addresses of one person: these are of ${holders.map((one) => one.name).join(' and ')}`);
    }
    const before = holders[0];
    const isSameOwner = before !== undefined && foldWord(before.name) === foldWord(name);
    const isSameRole = before?.roles.toSorted().join() === wanted.toSorted().join() && before?.shared === shared;
    const keeps = isSameOwner && isSameRole && before.siteId === site;
    // A list kept elsewhere must not let a lost phone in again.
    if (before?.state === 'suspended' && (isSameOwner || !change))
      return fault('a phone that was not taken off the line: RESTORE brings it back');
    if (before && !keeps && !change) {
      const has = [before.name, before.roles.join('+'), before.siteId].join(', ');
      return fault(`the owner and role that this address has (${has}); another one takes roster import --change`);
    }
    const moved = isSameOwner && here.some((one) => before.addresses.some((at) => isOther(at, one)));
    if (moved && !change) {
      return fault(`the address that ${before.name} has there now; another one takes roster import --change`);
    }
    const same = isSameOwner ? undefined : known.find((one) => isSame(one, name, wanted, site));
    if (same) {
      return fault(`the address that ${same.name} has now. A new phone: CHANGE ${same.name} and the number, by text`);
    }
    const twice = isSameOwner ? undefined : people.find((one) => isSame(one, name, wanted, site));
    if (twice) return fault('a person whom no earlier line has: two of one name need something that tells them apart');
    const doctor = wanted.includes('doctor');
    const ranked = isSameOwner ? before.rank : 0;
    if (doctor && ranked === 0) rank += 1;
    const again = isSameOwner && !keeps ? former.get(before.id)?.notTo : undefined;
    const id = keeps ? before.id : (again ?? `p-${randomBytes(6).toString('hex')}`);
    for (const one of marks) owners.set(one, id);
    // The same person in another role brings the other addresses along; another owner gets this one alone.
    if (before && !keeps) {
      former.set(before.id, { person: isSameOwner ? { ...before, addresses: [] } : before, notTo: id, isSameOwner });
    }
    const person: Person = {
      ...(keeps ? before : {}),
      id,
      programmeId: programme.id,
      name,
      roles: wanted,
      siteId: site,
      locale,
      addresses: isSameOwner ? withOwn(before.addresses, here) : here,
      rank: doctor ? ranked || rank : 0,
      state: isSameOwner ? before.state : 'joined',
      practised: isSameOwner ? before.practised : practised,
      shared,
    };
    const changes = before ? changesOf(before, person, isSameOwner) : [];
    taken.push({ line: number, as: before === undefined ? 'new' : changes.length > 0 ? 'changed' : 'same', changes });
    return again === undefined ? people.push(person) : 0;
  };
  lines.slice(1).forEach((line, index) => {
    if (line.trim() !== '') take(line, index + 2);
  });
  const left = (one: Person): Person['addresses'] =>
    one.addresses.filter((at) => (owners.get(markOf(at)) ?? one.id) === one.id);
  return {
    people: people.map((one) => ({ ...one, addresses: left(one) })),
    former: [...former.values()].map(({ person, ...of }): Former => {
      const addresses = left(person);
      const state = addresses.length === 0 ? 'suspended' : person.state;
      return { person: { ...person, addresses, state }, ...of };
    }),
    taken,
    faults,
  };
}

/** What is wrong with an address; null = texts can go there. */
function addressFault({ channel, address }: Address, prefixes: Prefixes | null): string | null {
  if (!channels.some((one) => one === channel)) return `a channel: ${channels.join(', ')}`;
  const { form, expected } = addressForms[channelFacts(channel).address];
  if (!form.test(address)) return expected;
  if (channel !== 'sms' || !prefixes || mayWriteTo(address, prefixes)) return null;
  return `a number that begins with one of NECKLINE_SMS_PREFIXES (${prefixes.join(', ')})`;
}

function isOther(at: Address, one: Address): boolean {
  return at.channel === one.channel && at.address !== one.address;
}

/** The addresses that somebody has, and those of the line that are new: one of each channel. */
function withOwn(has: readonly Address[], here: readonly Address[]): readonly Address[] {
  const fresh = here.filter((one) => !has.some((at) => markOf(at) === markOf(one)));
  return [...has.filter((at) => !fresh.some((one) => one.channel === at.channel)), ...fresh];
}

/** A person belongs to a place, whatever their role: its time zone is theirs, its hospital and number are told to them. */
function placeForm(site: string, places: readonly string[]): string {
  const known = `a site or laboratory${places.length === 0 ? '' : `: ${places.join(', ')}`}`;
  return site === ''
    ? `${known}. Doctors and coordinators have one too: the clinic whose time of day is theirs`
    : known;
}

function changesOf(before: Person, after: Person, isSameOwner: boolean): readonly string[] {
  const from = (what: string, was: string, is: string): readonly string[] =>
    was === is ? [] : [`${what} ${was} to ${is}`];
  const roleWords = ({ roles: held, shared }: Person): string => [...held, ...(shared ? ['shared'] : [])].join('+');
  const isRespelt = isSameOwner && before.name !== after.name;
  const isSameRole = before.roles.toSorted().join() === after.roles.toSorted().join() && before.shared === after.shared;
  return [
    ...(isSameOwner ? [] : ['another owner']),
    ...(isRespelt ? ['how the name is written'] : []),
    ...(isSameRole ? [] : from('roles', roleWords(before), roleWords(after))),
    ...from('site', before.siteId, after.siteId),
    ...from('language', before.locale, after.locale),
    ...(isSameOwner && after.addresses.some((at) => !before.addresses.some((one) => markOf(one) === markOf(at)))
      ? ['an address of theirs']
      : []),
  ];
}

function markOf({ channel, address }: Address): string {
  return `${channel}:${address}`;
}

/** What is wrong with a name. It is shown inside other people's texts: it must not be able to begin a text of its own. */
export function nameFault(texts: Texts, name: string, shared: boolean): string | null {
  const members = name
    .split('/')
    .map((one) => one.trim())
    .filter((one) => one !== '');
  for (const one of shared ? members : [name]) {
    switch (readsLikeTheLine(texts, one)) {
      case 'digits':
        return 'a name without digits: texts of the line have codes and tags there';
      case 'sentence':
        return 'a name that does not read like two sentences';
      case 'word':
        return 'a name that does not read like a word of the line (its keywords, SOS, STOP): write it in another way, in small letters or with an initial';
      case null:
    }
  }
  if (!areNames(name, shared)) {
    return 'a name of 1 to 60 letters, without control characters, colons and quotation marks';
  }
  if (shared && (members.length < 2 || members.length > 8)) return '2 to 8 names for a shared phone, joined by /';
  return null;
}

/** The same name at the same site, with a role in common: the same person, as far as a list can say. */
function isSame(one: Person, name: string, wanted: readonly string[], site: string): boolean {
  return (
    foldWord(one.name) === foldWord(name) && one.siteId === site && one.roles.some((role) => wanted.includes(role))
  );
}

/** How a cell looks, by what stands between two of them: one in quotation marks, and a plain one. */
const cellForms = new Map(
  separators.map((one) => [
    one,
    [new RegExp(`^\\s*"((?:[^"]|"")*)"\\s*(?:${one}|$)`), new RegExp(`^([^${one}]*)(?:${one}|$)`)] as const,
  ]),
);

/** Cells of one line; a cell with the separator stands in double quotes, a quote in it is doubled. */
function cells(line: string, separator: string): string[] {
  const [quotedCell, plainCell] = cellForms.get(separator)!;
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
