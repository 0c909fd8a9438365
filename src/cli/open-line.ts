/** What every command that works on the line's own database needs: settings, content and the open store. */
import { existsSync, statfsSync } from 'node:fs';
import { join } from 'node:path';
import { readSettings, realParts, type Settings } from '../config.ts';
import { checkContent } from '../content/check-content.ts';
import { shippedNames } from '../content/check-shipped.ts';
import { type Content, loadContent } from '../content/load.ts';
import { problemLine, sortProblems } from '../content/problem.ts';
import { dueAtOf } from '../conversation/duties.ts';
import { registry } from '../conversation/matters.ts';
import type { Log, Spare } from '../line/ports.ts';
import { keyPlaceFault, keyRingOfFile, openKeyRing } from '../store/keys.ts';
import { openStore } from '../store/open.ts';
import { clearScratch } from '../store/scratch.ts';
import type { LineStore } from '../store/store.ts';
import { isFull, isUnavailable, StoreError } from '../store/store-error.ts';
import { fileFault } from './file-fault.ts';
import { databaseWords, placeLine } from './said-place.ts';

/** Lines for the operator; the command ends with exit code 2. */
export class Refused extends Error {}

/** What a command is given besides its words. */
export interface Given {
  readonly stderr: { write(text: string): unknown };
  /** The settings file that it was called with; absent or null = the environment alone. */
  readonly settingsFile?: string | null;
}

/** Settings, or `Refused` with a line for each fault. */
export function settingsOrRefuse({ settingsFile = null }: Pick<Given, 'settingsFile'> = {}): Settings {
  const read = readSettings(undefined, settingsFile);
  if (!read.ok) throw new Refused(read.faults.join('\n'));
  return read.settings;
}

/**
 * Does all checks and hands on what they return, or refuses with the lines of all that refuse, so that nobody mends one fault
 * to be told the next. Of two lines about one setting the first is said.
 */
export function allOrRefuse<const Results extends readonly unknown[]>(
  checks: {
    readonly [Place in keyof Results]: () => Results[Place];
  },
): Results {
  const lines: string[] = [];
  const results = checks.map((check) => {
    try {
      return check();
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      lines.push(...error.message.split('\n'));
      return null;
    }
  });
  if (lines.length > 0) throw new Refused(withoutRepeats(lines).join('\n'));
  return results as unknown as Results;
}

/** One check of `allOrRefuse`. */
export function refuseIf(isSo: boolean, line: string): void {
  if (isSo) throw new Refused(line);
}

function withoutRepeats(lines: readonly string[]): readonly string[] {
  const said = new Set<string>();
  return lines.filter((line) => {
    const name = /(?:^|: )((?:NECKLINE|DATABASE)_[A-Z0-9_]+): /.exec(line)?.[1]?.replace(/_FILE$/, '') ?? line;
    const isFirst = !said.has(name);
    said.add(name);
    return isFirst;
  });
}

/** Settings and content of a command, and what else it finds in the settings, or `Refused` with the faults of all. */
export function settingsAndContent<More = null>(
  given: Pick<Given, 'settingsFile'>,
  more: (settings: Settings) => More = () => null as More,
): readonly [Settings, Content, More] {
  const settings = soundSettings(given);
  return allOrRefuse([() => settingsOrRefuse(given), () => soundContent(settings), () => more(settings)]);
}

/** The settings without those that have a fault: only to find all other faults too. */
export function soundSettings({ settingsFile = null }: Pick<Given, 'settingsFile'>): Settings {
  const read = readSettings(undefined, settingsFile);
  return read.ok ? read.settings : read.sound;
}

/** Flows, texts and the programme that the settings name, without a fault, or `Refused`. */
export function soundContent(settings: Settings): Content {
  return soundContentOf(settings.NECKLINE_PROGRAMME ?? null);
}

/** The same with a programme by its file; null = that of the package. */
export function soundContentOf(programme: string | null): Content {
  const content = loadContent(undefined, programme);
  // What cannot be read makes further faults that are none.
  const problems =
    content.problems.length > 0 ? content.problems : checkContent(content, { ...registry, shipped: shippedNames });
  if (problems.length > 0) throw new Refused(sortProblems(problems).map(problemLine).join('\n'));
  return content;
}

export interface OwnStore {
  /** The whole line runs on it, for as long as it is open. */
  readonly exclusive?: boolean;
  /** A new database may be made; any other command would begin a second one beside that of the line. */
  readonly makes?: boolean;
  readonly spare?: Spare | null;
}

/** What stands in the way of a real channel with these settings: its key file beside the data. */
export function refuseKeyPlace(settings: Settings): void {
  const fault = realParts(settings).length > 0 ? keyPlaceFault(keyFileOf(settings), settings.NECKLINE_DATA) : null;
  if (fault !== null) throw new Refused(fault);
}

/** True: the settings name an embedded database that is not there yet. */
export function hasNoDatabase(settings: Settings): boolean {
  return !settings.DATABASE_URL && !existsSync(join(settings.NECKLINE_DATA, 'neckline.db'));
}

/** Opens the database of the settings and says which one it is, or refuses with one line that says what to do. */
export async function openOwnStore(
  given: Given,
  settings: Settings,
  content: Content,
  log: Log,
  { exclusive = false, makes = false, spare = null }: OwnStore = {},
): Promise<LineStore> {
  const keyFile = keyFileOf(settings);
  refuseKeyPlace(settings);
  const file = settings.DATABASE_URL ? databaseWords(settings) : join(settings.NECKLINE_DATA, 'neckline.db');
  let isNew = false;
  try {
    if (exclusive && !settings.DATABASE_URL) clearScratch(file);
    const store = await openStore({
      url: settings.DATABASE_URL ?? `sqlite:${file}`,
      keys: (isWritten) => {
        isNew = !isWritten;
        return isWritten ? keyRingOfFile(keyFile) : openKeyRing(keyFile);
      },
      dueAtOf: (of) => dueAtOf(content.programme, of),
      log,
      exclusive,
      makes,
      spare,
    });
    given.stderr.write(placeLine(settings, isNew, content.programme));
    return store;
  } catch (error) {
    if (error instanceof StoreError && error.code === 'no-database') throw new Refused(noDatabase(settings));
    if (isOfFullDisk(error, settings)) throw new Refused(fullDisk(settings));
    throw new Refused(refusal(error, file, keyFile));
  }
}

/** The key file of the settings, beside the data where they name none. */
export function keyFileOf({ NECKLINE_KEY_FILE: own, NECKLINE_DATA: data }: Settings): string {
  return own ?? join(data, 'neckline.key');
}

/** Said instead of beginning an empty database next to the one that was meant. */
export function noDatabase(settings: Settings): string {
  const elsewhere = '--env FILE names the settings of another line';
  return `${databaseWords(settings)}: there is no database of a line here, and this command makes none. ${elsewhere}; neckline roster import and neckline start make a new database`;
}

/** Less than this and nothing can be begun, bytes. */
export const nothingLeftBytes = 1_000_000;

/** True when a start or a command failed because the disk of the data folder takes no more. */
export function isOfFullDisk(error: unknown, { NECKLINE_DATA: data }: Settings): boolean {
  if (isFull(error)) return true;
  if (!isUnavailable(error) || !existsSync(data)) return false;
  const { bavail, bsize } = statfsSync(data);
  return bavail * bsize < nothingLeftBytes;
}

/** What the operator is told then. */
export function fullDisk({ NECKLINE_DATA: data }: Settings): string {
  return `${data}: the disk is full; make room, then start again`;
}

function refusal(error: unknown, file: string, keyFile: string): string {
  const code = error instanceof StoreError ? error.code : ((error as NodeJS.ErrnoException).code ?? 'unknown');
  switch (code) {
    case 'locked':
      return `${file}: another line runs on this database; stop it first`;
    case 'no-key-file':
      return `${keyFile}: the key file of this database is gone; put it back, for nothing opens without it`;
    case 'wrong-key':
    case 'bad-key-file':
      return `${file}: the key file is not the one of this database; put the right one back`;
    case 'newer-schema':
      return `${file}: written by a newer version; install that one`;
    case 'ERR_DLOPEN_FAILED':
      return `the database driver was built for another Node than ${process.version}; install the archive again, or the Node of before (deploy/install.md)`;
    default:
      return fileFault(error) ?? `${file}: cannot be opened (${code})`;
  }
}
