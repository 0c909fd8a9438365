/** The play script: plain text, one act or expectation a line. */

import { isRole, type Role, roles } from '../../case/roles.ts';
import { channels } from '../../conversation/channel-facts.ts';
import { type TimeUnit, unitMs } from '../../text/time-units.ts';

/** Networks of a play: those of real phones. */
export const playChannels = channels.filter((one) => one !== 'bench');
export type PlayChannel = (typeof playChannels)[number];

export type ScriptLine =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'at'; readonly at: number }
  | { readonly kind: 'seed'; readonly seed: number }
  | {
      readonly kind: 'phone';
      readonly name: string;
      readonly address: string;
      readonly roles: readonly Role[];
      readonly site: string | null;
      readonly locale: string;
      readonly channel: PlayChannel;
    }
  | {
      readonly kind: 'send';
      readonly name: string;
      readonly text: string;
      readonly agoMs: number;
      readonly forged: boolean;
    }
  /** The same text once more: under its old id, or under a new one, as a network that delivers twice does. */
  | { readonly kind: 'again' | 'twin'; readonly name: string }
  | { readonly kind: 'expect'; readonly name: string; readonly pattern: string; readonly wanted: boolean }
  | { readonly kind: 'wait'; readonly ms: number }
  | { readonly kind: 'net'; readonly name: string; readonly up: boolean }
  | { readonly kind: 'crash' }
  | { readonly kind: 'bad'; readonly expected: string };

/** Ten years: whatever is due within it is played one by one. */
const longestWaitMs = 3660 * 86_400_000;
/** A script does not start later than this, so that no wait leads out of the calendar. */
const latestStart = Date.UTC(2200, 0, 1);

/** Reads one line. A faulty one comes back as `bad` with what was expected. */
export function readLine(raw: string): ScriptLine {
  const line = raw.replace(/\r$/, '');
  const trimmed = line.trim();
  if (trimmed === '' || trimmed.startsWith('#')) return { kind: 'nothing' };
  if (trimmed === 'crash') return { kind: 'crash' };
  const word = /^(at|seed|phone|again|twin|wait|net)\b\s*(.*)$/.exec(trimmed);
  // A phone may be called `at` too: `at> text` is a text.
  if (word && !/^[<>@]/.test(trimmed.slice(word[1]!.length))) return readWord(word[1]!, word[2]!.trim());
  return readTraffic(line.trimStart());
}

function readWord(word: string, rest: string): ScriptLine {
  switch (word) {
    case 'at': {
      const at = Date.parse(rest);
      return at >= 0 && at < latestStart
        ? { kind: 'at', at }
        : bad('at 2030-03-04T08:00:00Z, a year from 1970 to 2199');
    }
    case 'seed':
      return /^\d{1,9}$/.test(rest) ? { kind: 'seed', seed: Number(rest) } : bad('seed 1');
    case 'again':
    case 'twin':
      return /^\w+$/.test(rest) ? { kind: word, name: rest } : bad(`${word} NAME`);
    case 'wait': {
      const found = /^(\d{1,6})([smhd])$/.exec(rest);
      const ms = found ? Number(found[1]) * unitMs[found[2] as TimeUnit] : Number.NaN;
      return ms <= longestWaitMs ? { kind: 'wait', ms } : bad('wait 10m (s, m, h or d), at most 3660d');
    }
    case 'net': {
      const found = /^(up|down)\s+(\w+)$/.exec(rest);
      return found ? { kind: 'net', up: found[1] === 'up', name: found[2]! } : bad('net down NAME or net up NAME');
    }
    default:
      return readPhone(rest);
  }
}

function readPhone(rest: string): ScriptLine {
  const expected = `phone NAME ADDRESS role=ROLE[,ROLE] [site=S] [locale=L] [channel=${playChannels.join('|')}]`;
  const [name, address, ...settings] = rest.split(/\s+/);
  if (!name || !address || !/^\w+$/.test(name)) return bad(expected);
  const given: Record<string, string> = {};
  for (const setting of settings) {
    const found = /^(role|site|locale|channel)=(\S+)$/.exec(setting);
    if (!found) return bad(expected);
    given[found[1]!] = found[2]!;
  }
  const channel = playChannels.find((one) => one === (given.channel ?? 'sms'));
  const wanted = (given.role ?? '').split(',').filter((one) => one !== '');
  if (!wanted.every(isRole)) return bad(`${expected}; roles: ${roles.join(', ')}`);
  if (channel === undefined) return bad(expected);
  return {
    kind: 'phone',
    name,
    address,
    roles: wanted,
    site: given.site ?? null,
    locale: given.locale ?? 'en',
    channel,
  };
}

function readTraffic(line: string): ScriptLine {
  const found = /^(forge\s+)?(\w+)(?:@-(\d+)([smhd]))?(<!|<|>)(?: ?)([\s\S]*)$/.exec(line);
  if (!found) return bad('NAME> text, NAME< words, NAME<! words, wait, net, again, forge, crash or phone');
  const [, forge, name, ago, unit, sign, text] = found;
  if (sign === '>') {
    return {
      kind: 'send',
      name: name!,
      // Other control characters can be written as \n, \t and \xNN.
      text: unescapeText(text!),
      agoMs: ago ? Number(ago) * unitMs[unit as TimeUnit] : 0,
      forged: Boolean(forge),
    };
  }
  if (forge || ago) return bad('NAME< words');
  if (text!.trim() === '') return bad('NAME< words');
  return { kind: 'expect', name: name!, pattern: text!.trim(), wanted: sign === '<' };
}

function unescapeText(text: string): string {
  return text
    .replace(/\\n/g, '\n')
    .replace(/\\t/g, '\t')
    .replace(/\\x([0-9a-fA-F]{2})/g, (_all, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
}

function bad(expected: string): ScriptLine {
  return { kind: 'bad', expected };
}
