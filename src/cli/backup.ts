/** `neckline backup FILE`: a sealed copy of the embedded database, made while the line runs, read back and compared. */
import { existsSync, readFileSync } from 'node:fs';
import { makeBackup } from '../store/backup.ts';
import { readPublicKey } from '../store/backup-seal.ts';
import { keyRingOfFile } from '../store/keys.ts';
import { StoreError } from '../store/store-error.ts';
import { Refused } from './open-line.ts';
import { commandParts, type Io, operate, ownFiles, readWords } from './operate.ts';

const usage = `neckline backup FILE [--to PUBLIC]

Copies the database while the line runs, seals the copy to the public key PUBLIC (default: NECKLINE_BACKUP_KEY), reads
it back, compares every table and recomputes every chain. The data key is not inside: keep the key file elsewhere.
Beside FILE the list of erasures is kept up to date; take it along, a restore needs it. Nothing is overwritten.
Exit code 1 when the database itself has faults (they are in its backup too).
`;

/** Runs the command. */
export function runBackup(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--to']);
  const [file, ...more] = read?.words ?? [];
  if (!read || !file || more.length > 0) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, async () => {
    const { settings } = commandParts(io);
    const { database, keyFile } = ownFiles(settings);
    const publicFile = read.given['--to'] ?? settings.NECKLINE_BACKUP_KEY;
    if (!publicFile) throw new Refused('no public key: run neckline keys backup-pair FILE and set NECKLINE_BACKUP_KEY');
    if (existsSync(file)) throw new Refused(`${file} is there already; nothing is overwritten`);
    if (!existsSync(database) || !existsSync(keyFile)) throw new Refused(`${database}: there is no database yet`);
    const publicKey = readPublicKey(readFileSync(publicFile, 'utf8'));
    const ring = keyRingOfFile(keyFile);
    const made = await makeBackup(database, file, { ring, publicKey, at: Date.now() }).catch((thrown: unknown) => {
      const other = thrown instanceof StoreError && thrown.code === 'locked';
      throw other ? new Refused(`${database}: another backup is being made; nothing was done`) : thrown;
    });
    io.stdout.write(
      `${file}: ${made.bytes} bytes, ${made.rows} rows, ${made.cases} cases, ${made.erased} erased; read back\n`,
    );
    for (const fault of made.faults) io.stdout.write(`${fault}\n`);
    return made.faults.length === 0 ? 0 : 1;
  });
}
