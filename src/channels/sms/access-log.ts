/** What the log of a gateway says about texts that came in. Its lines are read without trust: phones name the sender. */
import { type Country, type Prefixes, roundNumber } from './addresses.ts';
import { instantOf } from './instant.ts';
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

/** Longest number or name of a sender, characters: as at the door. Another id than such stands in a torn line. */
const senderAtMost = 60;
const idForm = /^[\x20-\x7e]{1,120}$/;

/** Reads one line at a time; null for a line about anything else. `gateway`: whose log it is, as its keys begin. */
export function accessLogReader(
  log: AccessLog,
  prefixes: Prefixes,
  country: Country | null = null,
  gateway = 'sms',
): (line: string) => LoggedText | null {
  const pattern = new RegExp(log.line);
  return (line) => {
    const { id = '', from = '', time = '', size = '' } = pattern.exec(line)?.groups ?? {};
    const at = instantOf(time, log.time);
    if (!idForm.test(id) || from.trim() === '' || from.length > senderAtMost || at === null) return null;
    const sender = roundNumber(from, prefixes, country);
    return { key: `${gateway}:${id}`, from: sender, at, twin: `${sender}\n${at}\n${size}` };
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
