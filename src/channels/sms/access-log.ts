/** What the log of a gateway says about texts that came in. Its lines are read without trust: phones name the sender. */
import { type Prefixes, roundNumber } from './addresses.ts';
import type { AccessLog } from './mapping.ts';

/** One text that a gateway took from its network. */
export interface LoggedText {
  /** Key of the text in our table, were it there. */
  readonly key: string;
  /** Number in the form of the roster. */
  readonly from: string;
  /** The network's time, epoch ms. */
  readonly at: number;
  /** Sender, time and size: what two deliveries of one text have in common. */
  readonly twin: string;
}

/** Longest number or name of a sender, characters, and what an id is: as at the door. */
const senderAtMost = 60;
const idForm = /^[\x20-\x7e]{1,120}$/;

/** Reads one line at a time; null for a line about anything else. */
export function accessLogReader(log: AccessLog, prefixes: Prefixes): (line: string) => LoggedText | null {
  const pattern = new RegExp(log.line);
  return (line) => {
    const { id = '', from = '', time = '', size = '' } = pattern.exec(line)?.groups ?? {};
    const at = instantOf(time, log.time);
    if (!idForm.test(id) || from.trim() === '' || from.length > senderAtMost || at === null) return null;
    const sender = roundNumber(from, prefixes);
    return { key: `sms:${id}`, from: sender, at, twin: `${sender}\n${at}\n${size}` };
  };
}

/** The groups that a pattern must name; null when it has them, else what is wrong with it. */
export function patternFault(pattern: string): string | null {
  try {
    const { groups = {} } = new RegExp(`${pattern}|`).exec('') ?? {};
    const missing = ['time', 'id', 'from'].filter((name) => !(name in groups));
    return missing.length === 0 ? null : `expected a group named ${missing.join(', ')}`;
  } catch {
    return 'expected a regular expression';
  }
}

const day = String.raw`\d{4}-\d\d-\d\d`;
const clock = String.raw`\d\d:\d\d:\d\d(?:\.\d+)?`;
const written = new RegExp(`^(${day})[ T](${clock})(Z|[+-]\\d\\d:\\d\\d)?$`);

function instantOf(text: string, unit: AccessLog['time']): number | null {
  if (unit !== 'written') return /^\d{1,14}$/.test(text) ? Number(text) * (unit === 'seconds' ? 1000 : 1) : null;
  const parts = written.exec(text);
  const at = parts ? Date.parse(`${parts[1]}T${parts[2]}${parts[3] ?? 'Z'}`) : Number.NaN;
  return Number.isNaN(at) ? null : at;
}
