/** What commands for operators share: one line and exit code 2 for whatever they refuse. */
import { join } from 'node:path';
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import type { Log } from '../line/ports.ts';
import { jsonLog } from '../observe/log.ts';
import type { LineStore } from '../store/store.ts';
import { StoreError } from '../store/store-error.ts';
import { readArguments } from './arguments.ts';
import { openOwnStore, Refused, settingsOrRefuse, soundContent } from './open-line.ts';

export interface Io {
  readonly stdout: { write(text: string): unknown };
  readonly stderr: { write(text: string): unknown };
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
  const { code, path } = error as NodeJS.ErrnoException;
  const known = ['ENOENT', 'EACCES', 'EEXIST', 'ENOSPC', 'EISDIR', 'EROFS', 'ENOTDIR'];
  return code !== undefined && known.includes(code) && path ? `${path}: ${code}` : null;
}

/** Settings and log of a command. */
export function commandParts(io: Io): { readonly settings: Settings; readonly log: Log } {
  const settings = settingsOrRefuse();
  return { settings, log: jsonLog((line) => io.stderr.write(line), settings.NECKLINE_LOG) };
}

/** Opens the line's database for a moment, beside a line that may run. */
export async function withStore(
  io: Io,
  work: (store: LineStore, content: Content) => Promise<number>,
): Promise<number> {
  const { settings, log } = commandParts(io);
  const content = soundContent(settings);
  const store = await openOwnStore(settings, content, log, false);
  try {
    return await work(store, content);
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
    keyFile: settings.NECKLINE_KEY_FILE ?? join(settings.NECKLINE_DATA, 'neckline.key'),
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
