/** Which database and which programme a command acts on, for the person who typed it. */
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Settings } from '../config.ts';
import { packageRoot } from '../content/load.ts';
import { readProgramme } from '../content/programme.ts';
import type { Programme } from '../conversation/programme.ts';

const packageProgramme = join(packageRoot, 'flows', 'programme.yaml');

/** Path, or host and name without user and password. */
export function databaseWords({ DATABASE_URL: url, NECKLINE_DATA: data }: Settings): string {
  if (url === undefined) return resolve(data, 'neckline.db');
  try {
    const { hostname, port, pathname, searchParams } = new URL(url);
    const host = hostname || searchParams.get('host') || 'this machine';
    return `PostgreSQL ${host}${port === '' ? '' : `:${port}`}${pathname}`;
  } catch {
    return 'PostgreSQL';
  }
}

type Named = Pick<Programme, 'id' | 'name'>;

/** A programme's file that cannot be used is named all the same: a backup does not depend on it. */
function programmeOf({ NECKLINE_PROGRAMME: own }: Settings): Named | null {
  const file = own ?? packageProgramme;
  const text = readIfThere(file);
  return text === null ? null : readProgramme(file, text).programme;
}

/**
 * The line for standard error, said once by each command that acts on a database: path, or host and name, of the database;
 * name, id and file of the programme.
 */
export function placeLine(settings: Settings, isNew = false, programme: Named | null = programmeOf(settings)): string {
  const { NECKLINE_PROGRAMME: own } = settings;
  const made = isNew ? 'a new database is made: ' : 'database ';
  const name = programme === null ? 'that cannot be read' : `${programme.name} (${programme.id})`;
  const from = own === undefined ? ', the invented one of the package' : ` of ${resolve(own)}`;
  return `${made}${databaseWords(settings)}; programme ${name}${from}\n`;
}

/** True while no programme of one's own is named, or a copy of the package's is, with nothing changed. */
export function isInvented({ NECKLINE_PROGRAMME: own }: Settings): boolean {
  return own === undefined || readIfThere(own) === readIfThere(packageProgramme);
}

/** Said where an act would make real people depend on it. */
export function inventedProgramme(why: string): string {
  return `${why}, and the programme is the invented one of the package: name your own, by --env FILE or NECKLINE_PROGRAMME (deploy/sms.md)`;
}

function readIfThere(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}
