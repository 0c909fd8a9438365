/** What every command that works on the line's own database needs: settings, content and the open store. */
import { existsSync, statfsSync } from 'node:fs';
import { join } from 'node:path';
import { readSettings, realParts, type Settings } from '../config.ts';
import { checkContent } from '../content/check-content.ts';
import { shippedNames } from '../content/check-shipped.ts';
import { type Content, loadContent } from '../content/load.ts';
import { problemLine } from '../content/problem.ts';
import { dueAtOf } from '../conversation/duties.ts';
import { registry } from '../conversation/matters.ts';
import type { Log, Spare } from '../line/ports.ts';
import { keyPlaceFault, keyRingOfFile, openKeyRing } from '../store/keys.ts';
import { openStore } from '../store/open.ts';
import { clearScratch } from '../store/scratch.ts';
import type { LineStore } from '../store/store.ts';
import { isFull, isUnavailable, StoreError } from '../store/store-error.ts';

/** One line for the operator; the command ends with exit code 2. */
export class Refused extends Error {}

/** Settings, or `Refused` with a line for each fault. */
export function settingsOrRefuse(): Settings {
  const read = readSettings();
  if (!read.ok) throw new Refused(read.faults.join('\n'));
  return read.settings;
}

/** Flows, texts and the programme that the settings name, without a fault, or `Refused`. */
export function soundContent(settings: Settings): Content {
  const content = loadContent(undefined, settings.NECKLINE_PROGRAMME ?? null);
  // What cannot be read makes further faults that are none.
  const problems =
    content.problems.length > 0 ? content.problems : checkContent(content, { ...registry, shipped: shippedNames });
  if (problems.length > 0) throw new Refused(problems.map(problemLine).join('\n'));
  return content;
}

/** Opens the database of the settings, or refuses with one line that says what to do. */
export async function openOwnStore(
  settings: Settings,
  content: Content,
  log: Log,
  exclusive: boolean,
  spare: Spare | null = null,
): Promise<LineStore> {
  const keyFile = settings.NECKLINE_KEY_FILE ?? join(settings.NECKLINE_DATA, 'neckline.key');
  if (realParts(settings).length > 0) {
    const fault = keyPlaceFault(keyFile, settings.NECKLINE_DATA);
    if (fault !== null) throw new Refused(fault);
  }
  const file = settings.DATABASE_URL ? 'DATABASE_URL' : join(settings.NECKLINE_DATA, 'neckline.db');
  try {
    if (exclusive && !settings.DATABASE_URL) clearScratch(file);
    return await openStore({
      url: settings.DATABASE_URL ?? `sqlite:${file}`,
      keys: (isWritten) => (isWritten ? keyRingOfFile(keyFile) : openKeyRing(keyFile)),
      dueAtOf: (of) => dueAtOf(content.programme, of),
      log,
      exclusive,
      spare,
    });
  } catch (error) {
    if (isOfFullDisk(error, settings)) throw new Refused(fullDisk(settings));
    throw new Refused(refusal(error, file, keyFile));
  }
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
    default:
      return `${file}: cannot be opened (${code})`;
  }
}
