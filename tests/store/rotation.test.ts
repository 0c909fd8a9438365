import { readFileSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readKeyFile } from '../../src/store/key-file.ts';
import { type KeyRing, keyRingOf, openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { rotateWrapping } from '../../src/store/rotate.ts';
import type { LineStore } from '../../src/store/store.ts';
import { wrappingVersion } from '../../src/store/wrapping.ts';
import { change, person, programmeId, text } from '../contract/store-samples.ts';
import { diskFolder } from '../support/disk-folder.ts';
import { shipped } from '../support/shipped.ts';

describe('the wrapping key', () => {
  let folder: string;
  let file: string;
  let keyFile: string;
  const open = (keys: KeyRing): Promise<LineStore> => openStore({ url: `sqlite:${file}`, keys });
  const versions = (): number[] => {
    const db = new Sqlite(file, { readonly: true });
    const wrapped = db.prepare('select wrapped from data_keys where wrapped is not null').pluck().all() as Buffer[];
    db.close();
    return wrapped.map(wrappingVersion);
  };
  const people = (count: number, from = 0) =>
    Array.from({ length: count }, (_unused, index) => person(`w${from + index}`, { name: `Name ${from + index}` }));
  const names = async (): Promise<readonly string[]> => {
    const store = await open(openKeyRing(keyFile));
    const found = (await store.roster(programmeId)).map((one) => one.name).sort();
    // Addresses and event keys are found under the same hashes as before.
    expect((await store.load([text('x', 'w0', '?')], shipped.flows))[0]?.person?.id).toBe('w0');
    expect((await store.load([text('seen', 'w0', '?')], shipped.flows))[0]?.duplicate).toBe(true);
    await store.close();
    return found;
  };

  beforeEach(async () => {
    folder = diskFolder('neckline-rotate-');
    file = join(folder, 'data', 'neckline.db');
    keyFile = join(folder, 'keys', 'neckline.key');
    const store = await open(openKeyRing(keyFile));
    await store.putPeople(people(3));
    await store.commit([change('seen', { keys: ['seen'] })]);
    await store.close();
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('is changed for every data key, again and again, and all is read as before', async () => {
    const before = readFileSync(keyFile, 'utf8');
    expect(await rotateWrapping(keyFile, open)).toBe(3);
    expect(versions()).toEqual([2, 2, 2]);
    expect(await names()).toEqual(['Name 0', 'Name 1', 'Name 2']);
    expect(await rotateWrapping(keyFile, open)).toBe(3);
    expect(versions()).toEqual([3, 3, 3]);
    expect(await names()).toHaveLength(3);
    expect(readKeyFile(keyFile)).toMatchObject({ rotating: false, wrapping: [{ version: 3 }] });
    expect(statSync(keyFile).mode & 0o077).toBe(0);
    // Who has the old key file alone opens nothing any more.
    const old = keyRingOf(Buffer.from(JSON.parse(before).key, 'base64'));
    const store = await open(old);
    expect((await store.roster(programmeId)).map((one) => one.name)).toEqual(['', '', '']);
    await expect(store.load([text('x', 'w0', '?')], shipped.flows)).rejects.toMatchObject({ code: 'wrong-key' });
    await store.close();
  });

  it('stopped half-way, both keys stand in the file, the line runs, and a second run ends it', async () => {
    let opened = 0;
    const stopping = async (keys: KeyRing): Promise<LineStore> => {
      opened += 1;
      const store = await open(keys);
      if (opened === 1) return store;
      let batches = 0;
      return {
        ...store,
        rewrap: async (after) => {
          batches += 1;
          if (batches > 1) throw new Error('killed');
          return store.rewrap(after, 1);
        },
      };
    };
    await expect(rotateWrapping(keyFile, stopping)).rejects.toThrow('killed');
    expect(versions().sort()).toEqual([1, 1, 2]);
    expect(readKeyFile(keyFile)).toMatchObject({ rotating: true, wrapping: [{ version: 2 }] });
    expect(await names()).toHaveLength(3);
    const store = await open(openKeyRing(keyFile));
    await store.putPeople(people(1, 3));
    await store.close();
    expect(await rotateWrapping(keyFile, open)).toBe(2);
    expect(versions()).toEqual([2, 2, 2, 2]);
    expect(await names()).toHaveLength(4);
  });

  it('stays in the file while somebody reads an older state, and a second run takes it out', async () => {
    const reader = new Sqlite(file, { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cases').get();
    await expect(rotateWrapping(keyFile, open)).rejects.toMatchObject({ code: 'readers' });
    expect(readKeyFile(keyFile)).toMatchObject({ rotating: true });
    reader.exec('rollback');
    reader.close();
    expect(await rotateWrapping(keyFile, open)).toBe(0);
    expect(readKeyFile(keyFile)).toMatchObject({ rotating: false, wrapping: [{ version: 2 }] });
    expect(await names()).toHaveLength(3);
  });

  it('is not changed while a line runs', async () => {
    const line = await open(openKeyRing(keyFile));
    await expect(rotateWrapping(keyFile, open)).rejects.toMatchObject({ code: 'locked' });
    await line.close();
    expect(readKeyFile(keyFile)?.wrapping).toEqual([]);
  });
});
