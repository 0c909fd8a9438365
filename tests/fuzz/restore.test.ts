import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeBackup } from '../../src/store/backup.ts';
import { makeBackupPair, readPrivateKey, readPublicKey, sealFile } from '../../src/store/backup-seal.ts';
import { readErasureList, writeErasureList } from '../../src/store/erasure-list.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { restoreBackup } from '../../src/store/restore.ts';
import { StoreError } from '../../src/store/store-error.ts';
import { change, message, person } from '../contract/store-samples.ts';
import { runs } from '../support/runs.ts';
import { hostileText, seed } from './hostile.ts';

const pair = makeBackupPair();
const publicKey = readPublicKey(pair.publicPem);
const privateKey = readPrivateKey(pair.privatePem);
const ring = keyRingOf(Buffer.alloc(32, 7));

let folder: string;
let sound: Buffer;
let list: Buffer;
const at = (...parts: string[]): string => join(folder, ...parts);

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-restore-'));
  const store = await openStore({ url: `sqlite:${at('source.db')}`, keys: ring });
  await store.putPeople([person('w1')]);
  await store.commit([change('e', { outbox: [message('e:0', 'w1')] })]);
  await store.close();
  await makeBackup(at('source.db'), at('sound.backup'), { ring, publicKey, at: 9 });
  sound = readFileSync(at('sound.backup'));
  writeErasureList(at('erasures.list'), ring, [
    { keyId: 'person:nobody', programmeId: 'lowland', at: 1, reason: 'left' },
  ]);
  list = readFileSync(at('erasures.list'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Refusals that a command turns into one line and exit code 2. */
const refusals = ['bad-backup', 'bad-backup-key', 'bad-erasure-list', 'wrong-key'];

/** What restoring comes to; whatever is refused leaves nothing behind. */
async function restored(backup: Buffer, erasures: Buffer): Promise<string> {
  const database = at('data', 'neckline.db');
  rmSync(at('data'), { recursive: true, force: true });
  mkdirSync(at('data'));
  writeFileSync(at('one.backup'), backup);
  writeFileSync(at('erasures.list'), erasures);
  try {
    const { faults } = await restoreBackup(at('one.backup'), database, {
      ring,
      privateKey,
      erasures: readErasureList(at('erasures.list'), ring),
      now: 10,
      dueAtOf: () => null,
      erasedAtLeast: null,
      beforeUse: async () => undefined,
    });
    expect(existsSync(database)).toBe(true);
    return faults.length === 0 ? 'done' : 'done with faults';
  } catch (thrown) {
    if (!(thrown instanceof StoreError)) throw thrown;
    expect(readdirSync(at('data'))).toEqual([]);
    return refusals.includes(thrown.code) ? 'refused' : thrown.code;
  }
}

interface Spoiling {
  readonly from: number;
  readonly length: number;
  readonly instead: string;
}

/** Where bytes are cut out, and what (Latin-1) comes in their place. */
const spoiling: fc.Arbitrary<Spoiling> = fc.record({
  from: fc.oneof(fc.nat(400), fc.nat(200_000)),
  length: fc.nat(200),
  instead: fc.oneof(hostileText, fc.string({ maxLength: 40, unit: 'binary' })),
});

function spoil(bytes: Buffer, { from, length, instead }: Spoiling): Buffer {
  const start = from % bytes.length;
  const made = Buffer.concat([
    bytes.subarray(0, start),
    Buffer.from(instead, 'latin1'),
    bytes.subarray(start + length),
  ]);
  fc.pre(!made.equals(bytes));
  return made;
}

describe('restore files', () => {
  it('a sound backup comes back', async () => {
    expect(await restored(sound, list)).toBe('done');
  });

  it('a spoiled backup is refused, and leaves no database', async () => {
    await fc.assert(
      fc.asyncProperty(spoiling, async (by) => {
        expect(await restored(spoil(sound, by), list)).toBe('refused');
      }),
      { seed, numRuns: runs(300, 9000) },
    );
  });

  it('a head that says anything else is refused', async () => {
    const [magic = '', head = ''] = sound.toString('latin1').split('\n');
    const rest = sound.subarray(magic.length + head.length + 2);
    const fields = JSON.parse(head) as Record<string, unknown>;
    const value = fc.oneof(fc.jsonValue(), hostileText);
    const heads = fc.oneof(
      fc.jsonValue(),
      fc.tuple(fc.constantFrom(...Object.keys(fields)), value).map(([name, other]) => ({ ...fields, [name]: other })),
    );
    await fc.assert(
      fc.asyncProperty(heads, async (made) => {
        const backup = Buffer.concat([Buffer.from(`${magic}\n${JSON.stringify(made)}\n`), rest]);
        expect(await restored(backup, list)).toBe('refused');
      }),
      { seed, numRuns: runs(300, 9000) },
    );
  });

  it('a spoiled list of erasures is refused: patients who were erased do not come back', async () => {
    await fc.assert(
      fc.asyncProperty(spoiling, async (by) => {
        expect(await restored(sound, spoil(list, by))).toBe('refused');
      }),
      { seed, numRuns: runs(200, 6000) },
    );
  });

  // Whoever has the public half can seal anything to it.
  it('a well sealed backup of something that is no database of the line is refused', async () => {
    const about = { at: 9, dataKey: ring.fingerprint };
    const contents: [string, (file: string) => void][] = [
      ['nothing', (file) => writeFileSync(file, '')],
      ['noise', (file) => writeFileSync(file, Buffer.alloc(9000, 'SQLite format 3\0 and more'))],
      ['another database', (file) => new Sqlite(file).exec('create table meta (x)').close()],
      ['a cut database', (file) => writeFileSync(file, readFileSync(at('source.db')).subarray(0, 9000))],
      [
        'a database without its cases',
        (file) => {
          copyFileSync(at('source.db'), file);
          new Sqlite(file).exec('pragma foreign_keys = off; drop table case_events; drop table cases').close();
        },
      ],
      [
        'keys that do not open',
        (file) => {
          copyFileSync(at('source.db'), file);
          new Sqlite(file).exec("update data_keys set wrapped = x'00'").close();
        },
      ],
    ];
    for (const [name, make] of contents) {
      const plain = at('plain');
      rmSync(plain, { force: true });
      rmSync(at('forged.backup'), { force: true });
      make(plain);
      sealFile(plain, at('forged.backup'), publicKey, about);
      const end = await restored(readFileSync(at('forged.backup')), list);
      expect([name, end]).toEqual([name, name === 'keys that do not open' ? 'done with faults' : 'refused']);
    }
  });
});
