/** `neckline keys`: the pair that backups are sealed to, and a fresh wrapping key. */
import { existsSync } from 'node:fs';
import { dirname } from 'node:path';
import { dueAtOf } from '../conversation/duties.ts';
import { makeBackupPair, pairFingerprint, readPublicKey } from '../store/backup-seal.ts';
import { openStore } from '../store/open.ts';
import { rotateWrapping } from '../store/rotate.ts';
import { syncFolder, writeWhole } from '../store/whole-file.ts';
import { noDatabase, Refused, settingsAndContent } from './open-line.ts';
import { commandParts, type Io, operate, ownFiles } from './operate.ts';
import { placeLine } from './said-place.ts';

const usage = `neckline keys backup-pair FILE
neckline keys rotate

backup-pair  makes the pair that backups are sealed to: FILE.public stays here (NECKLINE_BACKUP_KEY names it),
             FILE.private opens backups and must leave this machine before the first one is made
rotate       puts a fresh wrapping key into the key file and brings every data key under it; the line must be stopped.
             Stopped half-way, run it again. Afterwards make a new backup: older ones need the key file of their time
`;

/** Runs the command. */
export function runKeys(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const [word, file, ...more] = args;
  if (word === 'backup-pair' && file && more.length === 0) return operate(io, async () => makePair(file, io));
  if (word === 'rotate' && args.length === 1) return operate(io, () => rotate(io));
  io.stderr.write(usage);
  return Promise.resolve(2);
}

function makePair(file: string, io: Io): number {
  const halves = { public: `${file}.public`, private: `${file}.private` };
  for (const one of Object.values(halves)) if (existsSync(one)) throw new Refused(`${one} is there already`);
  const pair = makeBackupPair();
  writeWhole(halves.private, pair.privatePem);
  // Whoever makes the pair: the line's user, who makes the backups, has to read it.
  writeWhole(halves.public, pair.publicPem, 0o644);
  syncFolder(dirname(file));
  io.stdout.write(`pair ${pairFingerprint(readPublicKey(pair.publicPem))}\n`);
  io.stdout.write(`${halves.public}: NECKLINE_BACKUP_KEY=${halves.public}\n`);
  io.stdout.write(`${halves.private}: take it off this machine now, and keep it where the backups are not\n`);
  return 0;
}

async function rotate(io: Io): Promise<number> {
  const [settings, { programme }] = settingsAndContent(io);
  const { log } = commandParts(io);
  const { database, keyFile } = ownFiles(settings);
  if (!existsSync(database)) throw new Refused(noDatabase(settings));
  if (!existsSync(keyFile)) throw new Refused(`${keyFile}: the key file of this database is gone; put it back`);
  const changed = await rotateWrapping(keyFile, (keys) =>
    openStore({ url: `sqlite:${database}`, keys, log, dueAtOf: (of) => dueAtOf(programme, of) }),
  );
  io.stderr.write(placeLine(settings, false, programme));
  io.stdout.write(`${changed} keys are under the new wrapping key; make a new backup now\n`);
  return 0;
}
