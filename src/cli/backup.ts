/**
 * `neckline backup FILE`: a sealed copy of the embedded database, made while the line runs, read back and compared. When one
 * was made is kept in the database: the line tells when that is too long ago.
 */
import { existsSync, readFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { noteBackup } from '../line/last-backup.ts';
import { makeBackup } from '../store/backup.ts';
import { readPublicKey } from '../store/backup-seal.ts';
import { type KeyRing, keyRingOfFile } from '../store/keys.ts';
import { openStore } from '../store/open.ts';
import { StoreError } from '../store/store-error.ts';
import { errorCode } from '../text/error-code.ts';
import { allOrRefuse, noDatabase, Refused, refuseIf } from './open-line.ts';
import { commandParts, type Io, operate, ownFiles, readWords, withStore } from './operate.ts';
import { placeLine } from './said-place.ts';

const usage = `neckline backup FILE [--to PUBLIC]
neckline backup --noted

Copies the database while the line runs, seals the copy to the public key PUBLIC (default: NECKLINE_BACKUP_KEY), reads
it back, compares every table and recomputes every chain. The data key is not inside: keep the key file elsewhere.
Beside FILE the list of erasures is kept up to date; take it along, a restore needs it. Nothing is overwritten.
Exit code 1 when the database itself has faults (they are in its backup too).

--noted  makes nothing: notes that a copy was made just now by other tools (pg_dump), so that the line does not tell
         that it is late. For the end of the script that makes it, after it has succeeded.
`;

/** Runs the command. */
export function runBackup(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--to'], ['--noted']);
  const [file, ...more] = read?.words ?? [];
  if (read?.given['--noted'] && !file && !read.given['--to']) return operate(io, () => noteOnly(io));
  if (read?.given['--noted'] || !read || !file || more.length > 0) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, async () => {
    const { settings } = commandParts(io);
    const { database, keyFile } = ownFiles(settings);
    const [publicFile] = allOrRefuse([
      () => publicFileOf(read.given['--to'] ?? settings.NECKLINE_BACKUP_KEY),
      () => refuseIf(existsSync(file), `${file} is there already; nothing is overwritten`),
      () => refuseIf(!existsSync(dirname(file)), `${dirname(file)}: there is no such folder; make it for this user`),
      () => refuseIf(!existsSync(database), noDatabase(settings)),
    ]);
    const publicKey = readPublicKey(readFileSync(publicFile, 'utf8'));
    const ring = keyRingOfFile(keyFile);
    io.stderr.write(placeLine(settings));
    const made = await makeBackup(database, file, { ring, publicKey, at: Date.now() }).catch((thrown: unknown) => {
      const other = thrown instanceof StoreError && thrown.code === 'locked';
      throw other ? new Refused(`${database}: another backup is being made; nothing was done`) : thrown;
    });
    io.stdout.write(
      `${file}: ${made.bytes} bytes, ${made.rows} rows, ${made.cases} cases, ${made.erased} erased; read back\n`,
    );
    for (const fault of made.faults) io.stdout.write(`${fault}\n`);
    const unnoted = made.current ? await note(database, ring, made.faults.length) : 'written by an older version';
    if (unnoted !== null) {
      io.stderr.write(`${database}: the copy is made but not noted (${unnoted}); the line will say that it is late\n`);
    }
    return made.faults.length === 0 ? 0 : 1;
  });
}

/** Leaves the mark in the database; the copy itself does not hold it. Null = it is there, else why it is not. */
async function note(database: string, ring: KeyRing, faults: number): Promise<string | null> {
  try {
    const store = await openStore({ url: `sqlite:${database}`, keys: ring, exclusive: false });
    try {
      await noteBackup(store, Date.now(), faults);
    } finally {
      await store.close();
    }
    return null;
  } catch (thrown) {
    return errorCode(thrown);
  }
}

function noteOnly(io: Io): Promise<number> {
  return withStore(io, async (store) => {
    await noteBackup(store, Date.now(), 0);
    io.stdout.write('noted: a copy of the database was made now\n');
    return 0;
  });
}

function publicFileOf(file: string | undefined): string {
  if (file !== undefined) return file;
  throw new Refused('no public key: run neckline keys backup-pair FILE and set NECKLINE_BACKUP_KEY');
}
