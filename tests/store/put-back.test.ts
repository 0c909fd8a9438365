import { createCipheriv, randomBytes } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type Sqlite from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { openSealed, seal } from '../../src/store/seal.ts';
import type { LineStore } from '../../src/store/store.ts';
import {
  answered,
  change,
  grown,
  opened,
  person,
  programmeId,
  question,
  stateOn,
  text,
} from '../contract/store-samples.ts';
import { besideTheLine } from '../support/beside-the-line.ts';

describe('sealed bytes that are put back where they once stood', () => {
  let folder: string;
  let file: string;
  let store: LineStore;
  beforeEach(async () => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-put-back-'));
    file = join(folder, 'neckline.db');
    store = await openStore({ url: `sqlite:${file}`, keys: keyRingOf(Buffer.alloc(32, 7)) });
    await store.putPeople([person('w1')]);
  });
  afterEach(async () => {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  });
  const beside = <T>(look: (db: Sqlite.Database) => T): T => besideTheLine(file, look);
  const sealedOf = (table: string): Buffer =>
    beside((db) => db.prepare(`select sealed from "${table}" limit 1`).pluck().get() as Buffer);
  const putBack = (table: string, sealed: Buffer): void => {
    beside((db) => db.prepare(`update "${table}" set sealed = ?`).run(sealed));
  };

  it('a person as they were with other roles is nobody: the roles of today do not open them', async () => {
    const [worker] = await store.roster(programmeId);
    const before = sealedOf('people');
    await store.putPeople([{ ...worker!, roles: ['worker', 'coordinator'] }]);
    putBack('people', before);
    await store.close();
    store = await openStore({ url: `sqlite:${file}`, keys: keyRingOf(Buffer.alloc(32, 7)) });
    expect((await store.roster(programmeId)).map((one) => [one.id, one.name])).toEqual([['w1', '']]);
  });

  it('roles that somebody wrote into the column let nobody do anything', async () => {
    beside((db) => db.prepare("update people set roles = 'worker coordinator doctor'").run());
    await store.close();
    store = await openStore({ url: `sqlite:${file}`, keys: keyRingOf(Buffer.alloc(32, 7)) });
    await expect(store.load([text('x', 'w1', '?')], [] as never)).rejects.toThrow(/unreadable/);
  });

  it('a conversation as it stood before begins anew', async () => {
    const stands = (caseId: string) => ({ personId: 'w1', state: stateOn(caseId, 'm') });
    await store.commit([change('a', { conversation: { ...stands('c1'), version: null } })]);
    const before = sealedOf('conversations');
    await store.commit([change('b', { conversation: { ...stands('c2'), version: 1 } })]);
    putBack('conversations', before);
    expect((await store.verify()).join('\n')).toMatch(/conversation of w1: does not open/);
  });

  it('a question as it stood before its answer is not asked again', async () => {
    await store.commit([change('c', { cases: [grown('c1', [opened, answered])] })]);
    const asked = question('q1', '47');
    await store.commit([change('a', { questions: [{ value: asked, isNew: true }] })]);
    const before = sealedOf('questions');
    const done = { ...asked, answeredAt: 5, answeredBy: 'd1', answer: 'refer' };
    await store.commit([change('b', { questions: [{ value: done, isNew: false }] })]);
    putBack('questions', before);
    expect((await store.verify()).join('\n')).toMatch(/question q1: does not open/);
  });
});

describe('the tag of sealed bytes', () => {
  it('is taken at its whole length alone', () => {
    const key = randomBytes(32);
    const whole = seal(key, 'words', 'row');
    expect(openSealed(key, whole, 'row').toString()).toBe('words');
    for (let length = 0; length < 29; length += 1) {
      expect(() => openSealed(key, whole.subarray(0, length), 'row')).toThrow(/unreadable/);
    }
    // A tag of 4 bytes is guessed in 2^32 tries: right as it is, it opens nothing here (NIST SP 800-38D, appendix C).
    const iv = randomBytes(12);
    const cipher = createCipheriv('aes-256-gcm', key, iv, { authTagLength: 4 });
    cipher.setAAD(Buffer.from('row'));
    cipher.final();
    const short = Buffer.concat([Buffer.from([1]), iv, cipher.getAuthTag()]);
    expect(() => openSealed(key, short, 'row')).toThrow(/unreadable/);
  });
});
