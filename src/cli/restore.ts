/** `neckline restore FILE`: a backup into an empty data folder. */

import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Content } from '../content/load.ts';
import { dueAtOf } from '../conversation/duties.ts';
import { nothingChanged } from '../line/change.ts';
import { readPrivateKey } from '../store/backup-seal.ts';
import { erasureListName, readErasureList } from '../store/erasure-list.ts';
import { keyRingOfFile } from '../store/keys.ts';
import { type Restored, restoreBackup } from '../store/restore.ts';
import type { LineStore } from '../store/store.ts';
import { clockWords, dayWordsAt } from '../text/time-words.ts';
import { allOrRefuse, refuseIf, settingsAndContent } from './open-line.ts';
import { type Io, operate, ownFiles, readWords } from './operate.ts';
import { placeLine } from './said-place.ts';

const usage = `neckline restore FILE --key PRIVATE [--erased N] [--erasures LIST | --no-erasures]

Opens a backup with the private half of its pair into the data folder, which must hold no database. The key file of the
time of the backup must be in its place. What the list of erasures names (default: erasures.list beside FILE) is erased
again; without a list nothing is restored unless --no-erasures says that there never was an erasure. --erased: the number
behind the mark in the newest morning text that a coordinator has; a list that names fewer is an older one and refused.
A list that lacks what the backup itself knows to be erased is refused in any case.
Timers keep their instants: what is past fires when the line starts. Texts that waited at the time of the backup may be
out already: those for safety go out, all others are held, and the coordinators are told. Exit code 1 when a chain has
a fault.
`;

/** Runs the command. */
export function runRestore(args: readonly string[], io: Io): Promise<number> {
  if (args.includes('--help')) {
    io.stdout.write(usage);
    return Promise.resolve(0);
  }
  const read = readWords(args, ['--key', '--erasures', '--erased'], ['--no-erasures']);
  const [file, ...more] = read?.words ?? [];
  const privateFile = read?.given['--key'];
  const erased = read?.given['--erased'];
  const known = erased === undefined || /^\d{1,9}$/.test(erased);
  if (
    !read ||
    !file ||
    more.length > 0 ||
    !privateFile ||
    !known ||
    (read.given['--erasures'] && read.given['--no-erasures'])
  ) {
    io.stderr.write(usage);
    return Promise.resolve(2);
  }
  return operate(io, async () => {
    const [settings, content] = settingsAndContent(io);
    const { database, keyFile } = ownFiles(settings);
    const list = read.given['--erasures'] ?? join(dirname(file), erasureListName);
    allOrRefuse([
      () => refuseIf(existsSync(database), `${database} is there already; nothing is overwritten`),
      () => refuseIf(!existsSync(keyFile), `${keyFile}: put the key file of the backup's time there first`),
      () =>
        refuseIf(
          !existsSync(list) && read.given['--no-erasures'] === undefined,
          `${list}: no list of erasures; without it patients who were erased would come back`,
        ),
    ]);
    const privateKey = readPrivateKey(readFileSync(privateFile, 'utf8'));
    const ring = keyRingOfFile(keyFile);
    const erasures = read.given['--no-erasures'] ? [] : readErasureList(list, ring);
    mkdirSync(dirname(database), { recursive: true, mode: 0o700 });
    const restored = await restoreBackup(file, database, {
      ring,
      privateKey,
      erasures,
      erasedAtLeast: erased === undefined ? null : Number(erased),
      now: Date.now(),
      dueAtOf: (of) => dueAtOf(content.programme, of),
      beforeUse: async (store, what) => {
        await tellCoordinators(store, content, what);
        await store.setMark('restored', String(Date.now()));
      },
    });
    io.stderr.write(placeLine(settings, true, content.programme));
    const { cases, erasedAgain, held, sent, faults } = restored;
    io.stdout.write(
      `${database}: as of ${new Date(restored.madeAt).toISOString()}, ${cases} cases, ${erasedAgain} erased again\n`,
    );
    io.stdout.write(
      `${held} waiting texts held, ${sent} for safety go out; coordinators are told when the line starts\n`,
    );
    io.stdout.write(
      `the list names ${erasures.length} erasures; the newest morning text says how many there were: if more, stop and restore with the newer list\n`,
    );
    for (const fault of faults) io.stdout.write(`${fault}\n`);
    return faults.length === 0 ? 0 : 1;
  });
}

/** An event that is due at once: the first thing that a restored line does. */
async function tellCoordinators(store: LineStore, content: Content, restored: Omit<Restored, 'faults'>): Promise<void> {
  const { programme } = content;
  const now = Date.now();
  const id = `restored:${restored.madeAt}:${now}`;
  const vars = {
    day: dayWordsAt(restored.madeAt, programme.zone, content.texts.months('en')),
    when: clockWords(restored.madeAt, programme.zone),
    count: String(restored.held),
  };
  const what = { kind: 'trouble', key: 'restored', vars } as const;
  const due = {
    id,
    programmeId: programme.id,
    personId: null,
    caseId: null,
    name: 'restored',
    frameId: null,
    dueAt: now,
    what,
  };
  const [outcome] = await store.commit([{ ...nothingChanged(`${id}:put`, programme.id, now), due: [due] }]);
  if (outcome !== 'committed') throw new Error(`the notice could not be stored: ${outcome}`);
}
