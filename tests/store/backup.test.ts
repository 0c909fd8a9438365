import { existsSync, readdirSync, readFileSync, rmSync, statSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { makeBackup } from '../../src/store/backup.ts';
import { makeBackupPair, openBackup, readPrivateKey, readPublicKey, sealFile } from '../../src/store/backup-seal.ts';
import { readErasureList, writeErasureList } from '../../src/store/erasure-list.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { change, message, person, programmeId } from '../contract/store-samples.ts';
import { diskFolder } from '../support/disk-folder.ts';

const ring = keyRingOf(Buffer.alloc(32, 7));
const pair = makeBackupPair();
const publicKey = readPublicKey(pair.publicPem);
const privateKey = readPrivateKey(pair.privatePem);

let folder: string;
const at = (name: string): string => join(folder, name);
beforeEach(() => {
  folder = diskFolder('neckline-backup-');
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

describe('a sealed file', () => {
  const about = { at: 5, dataKey: 'data' };

  it.each([0, 1, 65_535, 65_536, 65_537, 200_000])('of %i bytes comes back as it was', (size) => {
    const bytes = Buffer.from(Array.from({ length: size }, (_unused, index) => (index * 31) & 255));
    writeFileSync(at('plain'), bytes);
    sealFile(at('plain'), at('sealed'), publicKey, about);
    expect(openBackup(at('sealed'), at('back'), { privateKey })).toMatchObject(about);
    expect(readFileSync(at('back')).equals(bytes)).toBe(true);
    expect(statSync(at('sealed')).mode & 0o077).toBe(0);
  });

  it('does not open when a byte is changed, a piece is lost, or it is cut off', () => {
    writeFileSync(at('plain'), Buffer.alloc(150_000, 'secret words '));
    sealFile(at('plain'), at('sealed'), publicKey, about);
    const sealed = readFileSync(at('sealed'));
    expect(sealed.includes('secret')).toBe(false);
    const head = sealed.indexOf(0x0a, sealed.indexOf(0x0a) + 1) + 1;
    const piece = 4 + 65_536 + 16;
    const spoiled: [string, Buffer][] = [
      ['byte', Buffer.from(sealed.map((byte, index) => (index === head + 100 ? byte ^ 1 : byte)))],
      ['head', Buffer.from(sealed.toString('latin1').replace('"at":5', '"at":6'), 'latin1')],
      ['lost', Buffer.concat([sealed.subarray(0, head), sealed.subarray(head + piece)])],
      [
        'swapped',
        Buffer.concat([
          sealed.subarray(0, head),
          sealed.subarray(head + piece, head + 2 * piece),
          sealed.subarray(head, head + piece),
          sealed.subarray(head + 2 * piece),
        ]),
      ],
      ['cut', sealed.subarray(0, head + 2 * piece)],
      // Cut where a piece ends, and that piece called the last one.
      [
        'ended',
        Buffer.from(
          sealed.subarray(0, head + 2 * piece).map((byte, index) => (index === head + piece ? byte | 0x80 : byte)),
        ),
      ],
      ['longer', Buffer.concat([sealed, Buffer.from('x')])],
      ['none', Buffer.from('SQLite format 3')],
    ];
    for (const [name, bytes] of spoiled) {
      writeFileSync(at(name), bytes);
      expect(() => openBackup(at(name), at(`${name}.back`), { privateKey }), name).toThrow(/bad-backup/);
    }
    const other = readPrivateKey(makeBackupPair().privatePem);
    expect(() => openBackup(at('sealed'), at('other.back'), { privateKey: other })).toThrow(/bad-backup-key/);
    expect(() => readPublicKey(pair.privatePem)).toThrow(/bad-backup-key/);
    expect(() => readPrivateKey('nothing')).toThrow(/bad-backup-key/);
  });
});

describe('a backup', () => {
  it('is made while the line writes, leaves nothing else behind, and holds no data key', async () => {
    const file = at('neckline.db');
    const store = await openStore({ url: `sqlite:${file}`, keys: ring });
    await store.putPeople([person('w1', { name: 'Visible Name' })]);
    let writing = true;
    const traffic = (async () => {
      for (let turn = 0; writing; turn += 1) {
        await store.commit([change(`e${turn}`, { outbox: [message(`e${turn}:0`, 'w1')] })]);
        await new Promise((resolve) => setImmediate(resolve));
      }
    })();
    const made = await makeBackup(file, at('one.backup'), { ring, publicKey, at: 9 });
    writing = false;
    await traffic;
    await store.close();
    expect(made).toMatchObject({ faults: [], erased: 0 });
    expect(readdirSync(folder).filter((name) => /copy|partial|scratch/.test(name))).toEqual([]);
    expect(readFileSync(at('one.backup')).includes('Visible')).toBe(false);
    openBackup(at('one.backup'), at('back.db'), { privateKey });
    const back = await openStore({ url: `sqlite:${at('back.db')}`, keys: ring });
    expect((await back.roster(programmeId)).map((one) => one.name)).toEqual(['Visible Name']);
    await back.close();
    const other = keyRingOf(Buffer.alloc(32, 8));
    await expect(openStore({ url: `sqlite:${at('back.db')}`, keys: other })).rejects.toMatchObject({
      code: 'wrong-key',
    });
  });

  it('that cannot be finished leaves no file under its name', async () => {
    writeFileSync(at('neckline.db'), 'no database');
    await expect(makeBackup(at('neckline.db'), at('one.backup'), { ring, publicKey, at: 9 })).rejects.toThrow();
    expect(existsSync(at('one.backup'))).toBe(false);
    expect(readdirSync(folder).sort()).toEqual(['neckline.db', 'neckline.db.backup.lock']);
  });

  it('the list of erasures takes no line that somebody else wrote', () => {
    const list = at('erasures.list');
    const erasure = { keyId: 'case:a', programmeId: 'p', at: 1, reason: 'patient-asked' };
    expect(readErasureList(list, ring)).toEqual([]);
    writeErasureList(list, ring, [erasure]);
    expect(readErasureList(list, ring)).toEqual([erasure]);
    writeFileSync(list, `${JSON.stringify({ ...erasure, keyId: 'case:b' })}\n${readFileSync(list, 'utf8')}`);
    expect(() => readErasureList(list, ring)).toThrow(/bad-erasure-list/);
    truncateSync(list, 0);
    expect(() => readErasureList(list, ring)).toThrow(/bad-erasure-list/);
  });
});
