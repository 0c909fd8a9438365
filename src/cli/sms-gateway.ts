/** One SMS gateway as its settings describe it. */
import { readFileSync } from 'node:fs';
import { type Prefixes, readPrefixes } from '../channels/sms/addresses.ts';
import { kannel } from '../channels/sms/kannel.ts';
import type { GatewayMapping } from '../channels/sms/mapping.ts';
import { readMapping } from '../channels/sms/mapping-file.ts';
import { type Account, filledIn } from '../channels/sms/request.ts';
import { readSecrets } from '../channels/sms/secrets.ts';
import type { Settings } from '../config.ts';

/** Of the two gateways that a line can have: what its settings begin with, its path, its name in figures. */
export const gatewayNames = ['sms', 'sms2'] as const;
export type GatewayName = (typeof gatewayNames)[number];

export interface GatewaySettings {
  readonly name: GatewayName;
  readonly mapping: GatewayMapping;
  readonly account: Account;
  readonly secrets: readonly string[];
  /** Of the first, all that may be written to; of the second, the numbers that go by it first. */
  readonly prefixes: Prefixes;
  /** Segments; null = as many as come. */
  readonly perSecond: number | null;
  readonly perDay: number | null;
}

export type ReadGateway =
  | { readonly ok: true; readonly value: GatewaySettings }
  | { readonly ok: false; readonly faults: readonly string[] };

/** What each is set by. */
const named = {
  sms: {
    kind: 'NECKLINE_SMS_GATEWAY',
    sendUrl: 'NECKLINE_SMS_SEND_URL',
    user: 'NECKLINE_SMS_USER',
    password: 'NECKLINE_SMS_PASSWORD',
    number: 'NECKLINE_SMS_NUMBER',
    secret: 'NECKLINE_SMS_SECRET',
    prefixes: 'NECKLINE_SMS_PREFIXES',
    mapping: 'NECKLINE_SMS_MAPPING',
    perSecond: 'NECKLINE_SMS_PER_SECOND',
    perDay: 'NECKLINE_SMS_PER_DAY',
  },
  sms2: {
    kind: 'NECKLINE_SMS2_GATEWAY',
    sendUrl: 'NECKLINE_SMS2_SEND_URL',
    user: 'NECKLINE_SMS2_USER',
    password: 'NECKLINE_SMS2_PASSWORD',
    number: 'NECKLINE_SMS2_NUMBER',
    secret: 'NECKLINE_SMS2_SECRET',
    prefixes: 'NECKLINE_SMS2_PREFIXES',
    mapping: 'NECKLINE_SMS2_MAPPING',
    perSecond: 'NECKLINE_SMS2_PER_SECOND',
    perDay: 'NECKLINE_SMS2_PER_DAY',
  },
} as const;

/** True when anything is said of the second gateway. */
export function hasSecondGateway(settings: Settings): boolean {
  return Object.values(named.sms2).some((name) => settings[name] !== undefined);
}

/** Reads what the settings say of one gateway, or every fault in it. No fault holds a value. */
export function readGateway(settings: Settings, name: GatewayName): ReadGateway {
  const own = named[name];
  const needed = [own.kind, own.sendUrl, own.number, own.secret, ...(name === 'sms' ? [own.prefixes] : [])];
  const missing = needed.filter((one) => settings[one] === undefined);
  const faults = missing.map((one) => `${one}: SMS needs it`);
  const mapping = settings[own.kind] === undefined ? kannel : readMappingOf(settings, name);
  if (typeof mapping === 'string') faults.push(mapping);
  const allowed = settings[own.prefixes];
  const prefixes = prefixesIn(allowed ?? '');
  if (prefixes === null || (name === 'sms' && allowed !== undefined && prefixes.length === 0)) {
    faults.push(`${own.prefixes}: ${prefixForm}`);
  }
  const account = {
    sendUrl: settings[own.sendUrl] ?? '',
    user: settings[own.user] ?? '',
    password: settings[own.password] ?? '',
    number: settings[own.number] ?? '',
  };
  if (typeof mapping !== 'string') faults.push(...accountFaults(name, mapping, account));
  if (faults.length > 0 || typeof mapping === 'string' || prefixes === null) return { ok: false, faults };
  return {
    ok: true,
    value: {
      name,
      mapping,
      account,
      secrets: readSecrets(settings[own.secret]!),
      prefixes,
      perSecond: settings[own.perSecond] ?? null,
      perDay: settings[own.perDay] ?? null,
    },
  };
}

/** The mapping of a gateway, or what is wrong with the settings that name it. */
export function readMappingOf(settings: Settings, name: GatewayName): GatewayMapping | string {
  const own = named[name];
  if (settings[own.kind] === 'kannel') return kannel;
  const file = settings[own.mapping];
  if (file === undefined) return `${own.kind} is generic: ${own.mapping} must name its file`;
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch {
    return `${own.mapping}: cannot be read`;
  }
  const read = readMapping(text);
  return read.ok ? read.value : `${own.mapping}: ${read.fault}`;
}

const prefixForm = 'expected prefixes such as +999, separated by commas';

function prefixesIn(text: string): Prefixes | null {
  try {
    return readPrefixes(text);
  } catch {
    return null;
  }
}

/** What a header asks for must be there, and must be something that a header can hold. */
function accountFaults(name: GatewayName, { send }: GatewayMapping, account: Account): readonly string[] {
  const wants = Object.values(send.headers).join(' ');
  return (['user', 'password'] as const).flatMap((which) => {
    if (!wants.includes(`{${which}}`)) return [];
    const setting = named[name][which];
    if (account[which] === '') return [`${setting}: the mapping puts it into a header; set it`];
    return /^[\x20-\x7e]+$/.test(filledIn(`{${which}}`, account))
      ? []
      : [`${setting}: expected no line break and no accents`];
  });
}
