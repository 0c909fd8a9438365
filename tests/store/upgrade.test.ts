import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { probe } from '../probe/probe.ts';
import { playLines } from '../support/play.ts';
import { shipped as content } from '../support/shipped.ts';

const kept = join(import.meta.dirname, 'kept');

/** Databases as earlier versions left them, each in the middle of a case: name = last migration they knew. */
const databases = readdirSync(kept).filter((name) => name.endsWith('.db.gz'));

describe('a database of an earlier version', () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-upgrade-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it('each landed version that changed the tables is kept', () => {
    expect(databases).toEqual(
      expect.arrayContaining(
        ['0001', '0003', '0004', '0005', '0006', '0007', '0008', '0014'].map((one) => `${one}.db.gz`),
      ),
    );
  });

  it.each(databases)('%s opens, holds, and its case, texts and timers are there', async (name) => {
    const file = join(folder, 'neckline.db');
    writeFileSync(file, gunzipSync(readFileSync(join(kept, name))));
    const store = await openStore({
      url: `sqlite:${file}`,
      keys: openKeyRing(join(kept, 'kept.key')),
      dueAtOf: (of) => dueAtOf(content.programme, of),
    });
    expect(await store.verify()).toEqual([]);
    const roster = await store.roster(content.programme.id);
    expect(roster.map((one) => one.name).sort()).toEqual(['c', 'd', 'l', 'w']);
    const texts = await store.messages({ personId: 'person-w' });
    const code = texts.map((one) => /CODE (\d{4}) (\d{4})/.exec(one.text)).find((found) => found !== null)!;
    const of = await store.findCase(content.programme.id, `${code[1]}${code[2]}`);
    expect([of?.tag, of?.status]).toEqual(['AK', 'aftercare']);
    expect(await store.nextDueAt()).not.toBeNull();
    expect((await store.dailyHead(Date.UTC(2031, 0, 1), 0)).cases).toBe(1);
    await store.close();
  });

  it.each(databases)('%s: an SOS of everybody is heard', async (name) => {
    const file = join(folder, 'neckline.db');
    writeFileSync(file, gunzipSync(readFileSync(join(kept, name))));
    const keys = openKeyRing(join(kept, 'kept.key'));
    const probed = await probe({ file, keys, content, at: Date.UTC(2030, 2, 4, 8, 10) });
    expect(probed).toEqual({ asked: 4, faults: [] });
  });

  it.each(databases)('%s: the patient of its case is known again', async (name) => {
    const file = join(folder, 'neckline.db');
    writeFileSync(file, gunzipSync(readFileSync(join(kept, name))));
    const store = await openStore({ url: `sqlite:${file}`, keys: openKeyRing(join(kept, 'kept.key')) });
    const who = { siteId: 'oruma', initials: 'AK', sex: 'female' };
    const found = await store.casesAlike(content.programme.id, who);
    expect(found.map((one) => one.value.tag)).toEqual(['AK']);
    expect(await store.casesAlike(content.programme.id, { ...who, siteId: 'kesu' })).toEqual([]);
    await store.close();
  });

  it.each(databases)('%s: the case goes on to the laboratory and to its end', async (name) => {
    const file = join(folder, 'neckline.db');
    writeFileSync(file, gunzipSync(readFileSync(join(kept, name))));
    copyFileSync(join(kept, 'kept.key'), `${file}.key`);
    const { code, printed } = await playLines(readFileSync(join(kept, 'goes-on.play'), 'utf8').split('\n'), [
      '--db',
      file,
    ]);
    expect(printed).not.toMatch(/failed line|bad line/);
    expect(code).toBe(0);
  });
});
