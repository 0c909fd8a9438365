import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { openOwnStore, settingsOrRefuse } from '../../src/cli/open-line.ts';
import { makeBackup } from '../../src/store/backup.ts';
import { makeBackupPair, readPublicKey } from '../../src/store/backup-seal.ts';
import { writeKeyFile } from '../../src/store/key-file.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { clearScratch } from '../../src/store/scratch.ts';
import { change, message, person } from '../contract/store-samples.ts';
import { diskFolder } from '../support/disk-folder.ts';
import { shipped } from '../support/shipped.ts';

const ring = keyRingOf(Buffer.alloc(32, 7));
const pair = makeBackupPair();
const publicKey = readPublicKey(pair.publicPem);
const program = join(import.meta.dirname, 'backup-process.ts');
/** How every file of SQLite begins (sqlite.org, file format). */
const plainHead = 'SQLite format 3';

describe('a backup that is killed', () => {
  let folder: string;
  const at = (...parts: string[]): string => join(folder, ...parts);
  const scratch = (): readonly string[] =>
    existsSync(at('data', 'backup-scratch')) ? readdirSync(at('data', 'backup-scratch')) : [];
  const unsealed = (): readonly string[] =>
    readdirSync(at('backups')).filter((name) => readFileSync(at('backups', name)).includes(plainHead));

  beforeEach(async () => {
    folder = diskFolder('neckline-killed-backup-');
    mkdirSync(at('data'));
    mkdirSync(at('backups'));
    writeFileSync(at('public'), pair.publicPem);
    const store = await openStore({ url: `sqlite:${at('data', 'neckline.db')}`, keys: ring });
    await store.putPeople([person('w1')]);
    for (let turn = 0; turn < 20; turn += 1) {
      const rows = Array.from({ length: 100 }, (_unused, row) => `e${turn}-${row}`);
      await store.commit(
        rows.map((id) => change(id, { outbox: [message(`${id}:0`, 'w1', { text: 'x'.repeat(2_000) })] })),
      );
    }
    await store.close();
  });
  afterEach(() => {
    vi.unstubAllEnvs();
    rmSync(folder, { recursive: true, force: true });
  });

  /** Kills the process as soon as `moment` is there to be seen; false = it had ended before. */
  async function killedAt(moment: () => boolean): Promise<boolean> {
    const target = at('backups', `${Date.now()}.backup`);
    const child = spawn(process.execPath, [
      '--import',
      'tsx',
      program,
      at('data', 'neckline.db'),
      target,
      at('public'),
    ]);
    const ended = new Promise<void>((resolve) => child.once('close', () => resolve()));
    while (child.exitCode === null && !moment()) await new Promise((resolve) => setImmediate(resolve));
    const killed = child.kill('SIGKILL');
    await ended;
    return killed && !existsSync(target);
  }
  const moments: readonly (readonly [string, () => boolean])[] = [
    ['while it copies', () => scratch().includes('copy.db')],
    ['while it seals', () => readdirSync(at('backups')).some((name) => name.endsWith('.partial'))],
    ['while it reads back', () => scratch().includes('read-back.db')],
    ['while it looks through what it read back', () => scratch().includes('read-back.db-wal')],
  ];

  it.each(moments)(
    '%s leaves nothing unsealed among the backups, and the next one takes the rest away',
    async (_when, moment) => {
      expect(await killedAt(moment)).toBe(true);
      expect(unsealed()).toEqual([]);
      expect(scratch().length).toBeGreaterThan(0);
      expect(statSync(at('data', 'backup-scratch')).mode & 0o777).toBe(0o700);
      await makeBackup(at('data', 'neckline.db'), at('backups', 'next.backup'), { ring, publicKey, at: 9 });
      expect(existsSync(at('data', 'backup-scratch'))).toBe(false);
      expect(readdirSync(at('backups')).sort()).toEqual(['erasures.list', 'next.backup']);
    },
  );

  it('has what it left taken away by the next start of the line', async () => {
    expect(await killedAt(moments[0]![1])).toBe(true);
    expect(scratch()).toContain('copy.db');
    vi.stubEnv('NECKLINE_DATA', at('data'));
    vi.stubEnv('NECKLINE_KEY_FILE', at('neckline.key'));
    writeKeyFile(at('neckline.key'), { master: Buffer.alloc(32, 7), wrapping: [], rotating: false });
    const settings = settingsOrRefuse();
    const log = { write: () => undefined };
    const quiet = { stderr: { write: () => undefined } };
    // A command that looks for a moment is no start.
    await (await openOwnStore(quiet, settings, shipped, log, { makes: true })).close();
    expect(scratch()).toContain('copy.db');
    await (await openOwnStore(quiet, settings, shipped, log, { exclusive: true })).close();
    expect(existsSync(at('data', 'backup-scratch'))).toBe(false);
  });

  it('of an older version has its unsealed copies among the backups taken away; nothing else there goes', async () => {
    const kept = ['20300304T000000Z.backup', 'erasures.list.txt', 'notes.copy'];
    const old = [
      '20300304T060000Z.backup.copy',
      '20300304T060000Z.backup.scratch',
      '20300304T060000Z.backup.scratch-wal',
    ];
    for (const name of [...kept, ...old]) writeFileSync(at('backups', name), plainHead);
    await makeBackup(at('data', 'neckline.db'), at('backups', 'next.backup'), { ring, publicKey, at: 9 });
    expect(readdirSync(at('backups')).sort()).toEqual([...kept, 'erasures.list', 'next.backup'].sort());
  });

  it('stands in the way of none: while one runs another is refused, and a start leaves its copy alone', async () => {
    const target = at('backups', 'one.backup');
    const running = makeBackup(at('data', 'neckline.db'), target, { ring, publicKey, at: 9 });
    clearScratch(at('data', 'neckline.db'));
    expect(scratch().length).toBeGreaterThan(0);
    await expect(
      makeBackup(at('data', 'neckline.db'), at('backups', 'two.backup'), { ring, publicKey, at: 9 }),
    ).rejects.toMatchObject({ code: 'locked' });
    await running;
    expect(readdirSync(at('backups')).sort()).toEqual(['erasures.list', 'one.backup']);
  });
});
