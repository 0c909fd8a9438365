/** What commands for operators share: one line and exit code 2 for whatever they refuse. */
import { join } from 'node:path';
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import type { Log } from '../line/ports.ts';
import { jsonLog } from '../observe/log.ts';
import type { LineStore } from '../store/store.ts';
import { StoreError } from '../store/store-error.ts';
import { readArguments } from './arguments.ts';
import { fileFault } from './file-fault.ts';
import {
  type Given,
  keyFileOf,
  type OwnStore,
  openOwnStore,
  Refused,
  settingsAndContent,
  settingsOrRefuse,
} from './open-line.ts';

export interface Io extends Given {
  readonly stdout: { write(text: string): unknown };
}

/** Runs the work of a command; a refusal becomes its line and 2. */
export async function operate(io: Io, work: () => Promise<number>): Promise<number> {
  try {
    return await work();
  } catch (error) {
    const line = error instanceof Refused ? error.message : refusalOf(error);
    if (line === null) throw error;
    io.stderr.write(`${line}\n`);
    return 2;
  }
}

function refusalOf(error: unknown): string | null {
  if (error instanceof StoreError) {
    switch (error.code) {
      case 'bad-backup':
        return `this is no backup, or it is damaged (${error.where})`;
      case 'bad-backup-key':
        return `this key does not fit the backup (${error.where})`;
      case 'bad-erasure-list':
        return 'the list of erasures was changed by somebody else; take the one that was written beside the backups';
      case 'old-erasure-list':
        return `the list of erasures is an older one (${error.where}): with it patients who were erased would come back`;
      case 'wrong-key':
        return 'the key file is not the one of this data; put the right one back';
      case 'locked':
        return 'a database is there already or a line runs on it: nothing is overwritten';
      case 'readers':
        return 'the database is being read (a backup, an audit): run this again when that has ended';
      default:
        return null;
    }
  }
  return fileFault(error);
}

/** Settings and log of a command. */
export function commandParts(io: Io): { readonly settings: Settings; readonly log: Log } {
  const settings = settingsOrRefuse(io);
  return { settings, log: jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG) };
}

type StoreWork = (store: LineStore, content: Content, settings: Settings) => Promise<number>;

/** Opens the line's database for a moment, beside a line that may run, and says which one it is. Makes none. */
export async function withStore(io: Io, work: StoreWork): Promise<number> {
  const [settings, content] = settingsAndContent(io);
  return onStore(io, settings, content, work);
}

/** The same with settings and content that are read already. `makes`: a database that is not there yet is made. */
export async function onStore(
  io: Io,
  settings: Settings,
  content: Content,
  work: StoreWork,
  { makes = false }: Pick<OwnStore, 'makes'> = {},
): Promise<number> {
  const log = jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG);
  const store = await openOwnStore(io, settings, content, log, { makes });
  try {
    return await work(store, content, settings);
  } finally {
    await store.close();
  }
}

/** Files of the embedded database, or a refusal where PostgreSQL is used. */
export function ownFiles(settings: Settings): { readonly database: string; readonly keyFile: string } {
  if (settings.DATABASE_URL) {
    throw new Refused('PostgreSQL brings its own tools for copies (pg_dump, base backup); see deploy/backup.md');
  }
  return {
    database: join(settings.NECKLINE_DATA, 'neckline.db'),
    keyFile: keyFileOf(settings),
  };
}

/** `--name VALUE` and plain words of a command line; null for an option that is not known or lacks its value. */
export function readWords(
  args: readonly string[],
  options: readonly string[],
  flags: readonly string[] = [],
): { readonly words: readonly string[]; readonly given: Readonly<Record<string, string>> } | null {
  const { help, odd, words, values } = readArguments(args, {
    ...Object.fromEntries(options.map((name) => [name.slice(2), { type: 'string' as const }])),
    ...Object.fromEntries(flags.map((name) => [name.slice(2), { type: 'boolean' as const }])),
  });
  const given = Object.entries(values).map(([name, value]) => [`--${name}`, value === true ? 'yes' : String(value)]);
  return odd === null && !help ? { words, given: Object.fromEntries(given) } : null;
}
