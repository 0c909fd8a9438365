import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Sqlite from 'better-sqlite3';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { runAudit } from '../../src/cli/audit.ts';
import { runBackup } from '../../src/cli/backup.ts';
import { runErase } from '../../src/cli/erase.ts';
import { runKeys } from '../../src/cli/keys.ts';
import { runParked } from '../../src/cli/parked.ts';
import { runRestore } from '../../src/cli/restore.ts';
import { runRetention } from '../../src/cli/retention.ts';
import { nothingChanged } from '../../src/line/change.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { probe } from '../probe/probe.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { playLines } from '../support/play.ts';
import { shipped } from '../support/shipped.ts';

type Command = typeof runErase;

async function run(command: Command, ...args: string[]) {
  const written = { out: '', err: '' };
  const exit = await command(args, {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  return { exit, ...written };
}

/** Said with the database of each command. */
const ofProgramme = (): string => `programme Tamboro thyroid line (tamboro) of ${join(played, 'programme.yaml')}\n`;

const name = 'Tessaline Ollerby';
/** What nobody may find in any file: names, numbers, initials with year, words of texts. */
const hidden = [
  name,
  'Tessaline',
  '555010001',
  '+000555',
  'QX 1961',
  'QX F',
  'Write in pencil on all',
  'short of breath',
  'Box 7',
];

/** A folder with a played case, copied for each test: what operators work on. */
let played: string;
let code: string;
let folder: string;
const at = (...parts: string[]): string => join(folder, ...parts);

function settle(): void {
  vi.stubEnv('NECKLINE_PROGRAMME', ownProgramme(played));
  vi.stubEnv('NECKLINE_DATA', at('data'));
  vi.stubEnv('NECKLINE_KEY_FILE', at('keys', 'neckline.key'));
  vi.stubEnv('NECKLINE_BACKUP_KEY', at('keys', 'backup.public'));
}

function filesUnder(path: string): string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path).flatMap((one) => filesUnder(join(path, one)));
}

beforeAll(async () => {
  played = mkdtempSync(join(tmpdir(), 'neckline-operations-'));
  const file = join(played, 'neckline.db');
  const store = await openStore({ url: `sqlite:${file}`, keys: openKeyRing(`${file}.key`) });
  await store.putPeople([
    {
      id: 'person-w',
      programmeId: 'tamboro',
      name,
      roles: ['worker'],
      siteId: 'oruma',
      locale: 'en',
      addresses: [{ channel: 'sms', address: '+000555010001' }],
      rank: 0,
      state: 'joined',
      practised: true,
      shared: false,
    },
  ]);
  await store.close();
  const { code: exit, printed } = await playLines(
    [
      'phone w +000555010001 role=worker',
      'phone d +000555010002 role=doctor',
      'phone l +000555010003 role=lab',
      'phone c +000555010004 role=coordinator',
      'w> NEW QX 1961 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0',
      'w> OK',
      'w> 1',
      'w> 1357H',
      'w> ALL',
      'w> 50',
      'w< /CODE (?<a>\\d{4}) (?<b>\\d{4})\\. Write in pencil on/',
      'w> {a}{b}',
      'w> DOCTOR is gel enough',
      'w> LIST',
    ],
    ['--db', file],
  );
  expect(exit).toBe(0);
  const issued = /CODE (\d{4}) (\d{4})\. Write in pencil/.exec(printed)!;
  code = `${issued[1]}${issued[2]}`;
});
beforeEach(() => {
  folder = mkdtempSync(join(played, 'run-'));
  mkdirSync(at('data'));
  mkdirSync(at('keys'));
  mkdirSync(at('safe'));
  copyFileSync(join(played, 'neckline.db'), at('data', 'neckline.db'));
  copyFileSync(join(played, 'neckline.db.key'), at('keys', 'neckline.key'));
  settle();
});
afterAll(() => {
  vi.unstubAllEnvs();
  rmSync(played, { recursive: true, force: true });
});

const open = () =>
  openStore({
    url: `sqlite:${at('data', 'neckline.db')}`,
    keys: openKeyRing(at('keys', 'neckline.key')),
    exclusive: false,
  });

/** After whatever an operator did, an SOS of everybody is still heard. */
async function everySosIsHeard(): Promise<void> {
  const file = at('data', 'neckline.db');
  if (!existsSync(file)) return;
  const keys = openKeyRing(at('keys', 'neckline.key'));
  const later = Date.UTC(2030, 2, 4, 14);
  const { asked, faults } = await probe({ file, keys, content: shipped, at: later });
  expect(asked).toBeGreaterThan(0);
  expect(faults).toEqual([]);
}

describe('backup and restore', () => {
  afterEach(everySosIsHeard);

  it('a backup is made, proven, and brings back the data in an empty folder; nothing is overwritten', async () => {
    expect((await run(runBackup, at('one.backup'))).err).toMatch(
      /backup\.public: there is no such file or folder \(ENOENT\)/,
    );
    expect((await run(runKeys, 'backup-pair', at('keys', 'backup'))).exit).toBe(0);
    expect(await run(runKeys, 'backup-pair', at('keys', 'backup'))).toMatchObject({ exit: 2 });
    expect(statSync(at('keys', 'backup.private')).mode & 0o077).toBe(0);
    // Whoever made the pair, the line's user reads this half.
    expect(statSync(at('keys', 'backup.public')).mode & 0o777).toBe(0o644);
    const nowhere = await run(runBackup, at('none', 'one.backup'));
    expect(nowhere).toMatchObject({
      exit: 2,
      err: expect.stringMatching(/none: there is no such folder; make it for this user/),
    });
    const made = await run(runBackup, at('one.backup'));
    expect(made).toMatchObject({ exit: 0, err: `database ${at('data', 'neckline.db')}; ${ofProgramme()}` });
    expect(made.out).toMatch(/1 cases, 0 erased; read back/);
    expect(await run(runBackup, at('one.backup'))).toMatchObject({ exit: 2 });
    const restore = [at('one.backup'), '--key', at('keys', 'backup.private')];
    expect((await run(runRestore, ...restore)).err).toMatch(/is there already; nothing is overwritten/);

    rmSync(at('data'), { recursive: true });
    expect((await run(runRestore, at('one.backup'), '--key', at('keys', 'backup.public'))).err).toMatch(/does not fit/);
    const restored = await run(runRestore, ...restore);
    const err = `a new database is made: ${at('data', 'neckline.db')}; ${ofProgramme()}`;
    expect(restored).toMatchObject({ exit: 0, err });
    expect(restored.out).toMatch(/1 cases, 0 erased again/);
    const store = await open();
    expect((await store.findCase('tamboro', code))?.tag).toBe('QX');
    expect(Date.now() - Number(await store.mark('restored'))).toBeLessThan(60_000);
    // The coordinators hear of it first.
    const due = await store.dueBefore(Date.now() + 60_000, 99);
    expect(due.map((one) => one.what)).toContainEqual(expect.objectContaining({ kind: 'trouble', key: 'restored' }));
    await store.close();
  });

  it('without the key file of its time, with another one, or without the list of erasures nothing comes back', async () => {
    await run(runKeys, 'backup-pair', at('keys', 'backup'));
    await run(runBackup, at('one.backup'));
    rmSync(at('data'), { recursive: true });
    const restore = [at('one.backup'), '--key', at('keys', 'backup.private')];
    copyFileSync(at('keys', 'neckline.key'), at('safe', 'neckline.key'));
    rmSync(at('keys', 'neckline.key'));
    expect((await run(runRestore, ...restore)).err).toMatch(/put the key file/);
    openKeyRing(at('keys', 'neckline.key'));
    expect(await run(runRestore, ...restore, '--no-erasures')).toMatchObject({
      exit: 2,
      err: expect.stringMatching(/key file/),
    });
    copyFileSync(at('safe', 'neckline.key'), at('keys', 'neckline.key'));
    rmSync(at('erasures.list'));
    expect((await run(runRestore, ...restore)).err).toMatch(/no list of erasures/);
    expect(existsSync(at('data', 'neckline.db'))).toBe(false);
    expect((await run(runRestore, ...restore, '--no-erasures')).exit).toBe(0);
  });

  it('texts that waited at the time of the backup are held, those for safety go out', async () => {
    const db = new Sqlite(at('data', 'neckline.db'));
    const ids = db.prepare("select id from messages where direction = 'out' order by seq limit 3").pluck().all();
    const late = Date.now() + 86_400_000;
    db.prepare("update messages set status = 'queued', safety = 0, not_before = 0, valid_until = ? where id = ?").run(
      late,
      ids[0],
    );
    db.prepare("update messages set status = 'sending', safety = 1, not_before = 0, valid_until = ? where id = ?").run(
      late,
      ids[1],
    );
    db.prepare("update messages set status = 'sending', safety = 0, not_before = 0, valid_until = ? where id = ?").run(
      late,
      ids[2],
    );
    db.close();
    await run(runKeys, 'backup-pair', at('keys', 'backup'));
    await run(runBackup, at('one.backup'));
    rmSync(at('data'), { recursive: true });
    const { out } = await run(runRestore, at('one.backup'), '--key', at('keys', 'backup.private'));
    expect(out).toMatch(/2 waiting texts held, 1 for safety go out/);
    const store = await open();
    expect((await store.claimOutbox(Date.now(), 99)).map((row) => row.message.id)).toEqual([ids[1]]);
    expect((await store.claimOutbox(Date.now() + 7_200_000, 99)).map((row) => row.message.id)).toEqual([]);
    await store.close();
  });
});

describe('the time of keeping', () => {
  const years = (count: number): number => count * 365 * 86_400_000;
  afterEach(async () => {
    vi.restoreAllMocks();
    await everySosIsHeard();
  });

  it('a case that is open stays, however old; a closed one is counted, and goes when a person says so', async () => {
    const later = Date.UTC(2030, 2, 4) + years(11);
    vi.spyOn(Date, 'now').mockReturnValue(later);
    expect((await run(runRetention)).out).toBe('0 of 1 cases are closed for longer than 3650 days\n');
    const db = new Sqlite(at('data', 'neckline.db'));
    db.exec('update cases set open = 0, due_at = null, wake_at = null; delete from due');
    db.close();
    expect((await run(runRetention)).out).toBe('1 of 1 cases are closed for longer than 3650 days\n');
    const store = await open();
    expect((await store.findCase('tamboro', code))?.tag).toBe('QX');
    await store.close();
    expect(await run(runRetention, '--all')).toMatchObject({ exit: 2 });
    const { out, exit } = await run(runRetention, '--erase');
    expect([exit, out]).toEqual([0, expect.stringMatching(/^1 of 1 .*\n1 cases erased; [1-9]\d* texts of no case/)]);
    expect((await run(runRetention)).out).toBe('0 of 0 cases are closed for longer than 3650 days\n');
    expect((await run(runAudit, 'case', code)).out).toMatch(/\(kept-long-enough\)/);
  });
});

describe('erasing one patient', () => {
  afterEach(everySosIsHeard);

  it('destroys the key, proves what nobody can open, and the chain still holds', async () => {
    expect(await run(runErase, code)).toMatchObject({ exit: 2 });
    expect(await run(runErase, '11111157', '--reason', 'patient-asked')).toMatchObject({ exit: 2 });
    const erased = await run(runErase, code, '--reason', 'patient-asked');
    expect(erased.exit).toBe(0);
    expect(erased.out).toMatch(
      /key destroyed .*\(patient-asked\)\nnobody can open any more: [1-9]\d* records, [1-9]\d* texts, 1 questions/,
    );
    expect(erased.out).toMatch(/every chain holds/);
    const store = await open();
    expect(await store.findCase('tamboro', code)).toBeNull();
    expect(await store.audit()).toMatchObject({ cases: 1, faults: [] });
    const left = (
      await Promise.all(['w', 'd', 'l', 'c'].map((one) => store.messages({ personId: `person-${one}` })))
    ).flat();
    // What is left is what people were told about other things; of this patient no initials with the year.
    expect(left.filter((one) => /QX.*1961|1961.*QX/.test(one.text))).toEqual([]);
    await store.close();
    expect((await run(runAudit, 'case', code)).out).toMatch(/^erased .*records that nobody can open/);
  });

  it('somebody who left: only once they are off the line, then nobody knows them any more', async () => {
    expect((await run(runErase, '--person', name)).err).toMatch(/is on the line/);
    expect((await run(runErase, '--person', 'Nobody')).err).toMatch(/nobody of that id/);
    expect(await run(runErase, '--person', name, '--reason', 'left')).toMatchObject({ exit: 2 });
    const before = await open();
    const [worker] = (await before.roster('tamboro')).filter((one) => one.name === name);
    await before.putPeople([{ ...worker!, state: 'suspended' }]);
    await before.close();
    expect((await run(runErase, '--person', name)).out).toMatch(/^person-w: key destroyed; nobody can open/);
    expect((await run(runErase, '--person', name)).err).toMatch(/nobody of that id/);
    // By the id it is taken out of the files once more.
    expect(await run(runErase, '--person', 'person-w')).toMatchObject({
      exit: 0,
      err: `database ${at('data', 'neckline.db')}; ${ofProgramme()}`,
    });
    const after = await open();
    expect((await after.roster('tamboro')).map((one) => one.name)).not.toContain(name);
    // The patient is not the worker's to take along.
    expect((await after.findCase('tamboro', code))?.tag).toBe('QX');
    expect((await after.audit()).faults).toEqual([]);
    await after.close();
  });

  it('an older list of erasures is refused', async () => {
    await run(runKeys, 'backup-pair', at('keys', 'backup'));
    await run(runBackup, at('safe', 'before.backup'));
    copyFileSync(at('safe', 'erasures.list'), at('older.list'));
    await run(runErase, code, '--reason', 'ordered');
    expect((await run(runAudit, 'head')).out).toMatch(/: [A-Z0-9]{12}-1 .* 1 erasures so far/);
    await run(runBackup, at('safe', 'after.backup'));
    rmSync(at('data'), { recursive: true });
    const restoring = (file: string, ...more: string[]) =>
      run(runRestore, at('safe', file), '--key', at('keys', 'backup.private'), ...more);
    // The copy itself knows of one.
    const older = await restoring('after.backup', '--erasures', at('older.list'));
    expect([older.exit, older.err]).toEqual([2, expect.stringMatching(/list of erasures is an older one/)]);
    expect(await restoring('after.backup', '--no-erasures')).toMatchObject({ exit: 2 });
    // The copy knows of none: a coordinator's phone does.
    const unknown = await restoring('before.backup', '--erasures', at('older.list'), '--erased', '1');
    expect([unknown.exit, unknown.err]).toEqual([2, expect.stringMatching(/older one \(0 of 1\)/)]);
    expect(await restoring('before.backup', '--erased', 'many')).toMatchObject({ exit: 2 });
    const newest = await restoring('before.backup', '--erased', '1');
    expect([newest.exit, newest.out]).toEqual([0, expect.stringMatching(/1 erased again.*names 1 erasures/s)]);
  });

  it('while somebody reads, nobody is told that it is done: exit 1, and the same again ends it', async () => {
    const db = new Sqlite(at('data', 'neckline.db'));
    const key = db.prepare("select wrapped from data_keys where id like 'case:%'").pluck().get() as Buffer;
    db.close();
    const isThere = (): boolean =>
      filesUnder(at('data')).some((path) => !path.endsWith('-shm') && readFileSync(path).includes(key));
    const reader = new Sqlite(at('data', 'neckline.db'), { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cases').get();
    const first = await run(runErase, code, '--reason', 'patient-asked');
    expect(first.exit).toBe(1);
    expect(first.out).toMatch(/key destroyed .*\nnot safe yet: .*\nthe key's bytes may still stand .* Run this again/);
    expect(first.out).not.toMatch(/nobody can open/);
    expect(isThere()).toBe(true);
    reader.exec('rollback');
    reader.close();
    const second = await run(runErase, code, '--reason', 'patient-asked');
    expect([second.exit, second.out]).toEqual([0, expect.stringMatching(/\nnobody can open any more: /)]);
    expect(isThere()).toBe(false);
  });

  it('waits for a reader who is done in time', async () => {
    const reader = new Sqlite(at('data', 'neckline.db'), { readonly: true });
    reader.exec('begin');
    reader.prepare('select count(*) from cases').get();
    const erasing = run(runErase, code, '--reason', 'patient-asked');
    const seen = vi.spyOn(Sqlite.prototype, 'pragma');
    while (!seen.mock.calls.some(([text]) => text.startsWith('wal_checkpoint')))
      await new Promise((resolve) => setImmediate(resolve));
    seen.mockRestore();
    reader.close();
    expect((await erasing).exit).toBe(0);
  });

  it('a restored older backup erases again', async () => {
    await run(runKeys, 'backup-pair', at('keys', 'backup'));
    await run(runBackup, at('safe', 'before.backup'));
    await run(runErase, code, '--reason', 'ordered');
    await run(runBackup, at('safe', 'after.backup'));
    rmSync(at('data'), { recursive: true });
    const { out, exit } = await run(runRestore, at('safe', 'before.backup'), '--key', at('keys', 'backup.private'));
    expect([exit, out]).toEqual([0, expect.stringMatching(/1 cases, 1 erased again/)]);
    const store = await open();
    expect(await store.findCase('tamboro', code)).toBeNull();
    expect((await store.audit()).erased).toHaveLength(1);
    await store.close();
  });
});

describe('audit', () => {
  it('verify says how far it reaches, and finds what was changed, lost or rolled back before the last head', async () => {
    expect((await run(runAudit, 'verify')).out).toMatch(/reach: no head was taken yet/);
    const mark = /: ([A-Z0-9]{12}-0) /.exec((await run(runAudit, 'head')).out)![1]!;
    const good = await run(runAudit, 'verify', '--head', mark);
    expect(good.exit).toBe(0);
    expect(good.out).toMatch(/reach: any change, loss or other order up to .*every chain holds/s);
    expect(await run(runAudit, 'verify', '--head', 'NOSUCHMARK00')).toMatchObject({ exit: 1 });
    const tampered = async (sql: string): Promise<string> => {
      copyFileSync(at('data', 'neckline.db'), at('kept.db'));
      const db = new Sqlite(at('data', 'neckline.db'));
      db.pragma('foreign_keys = off');
      db.exec(sql);
      db.close();
      const { exit, out } = await run(runAudit, 'verify', '--head', mark);
      expect(exit).toBe(1);
      for (const suffix of ['-wal', '-shm']) rmSync(`${at('data', 'neckline.db')}${suffix}`, { force: true });
      copyFileSync(at('kept.db'), at('data', 'neckline.db'));
      return out;
    };
    // Whole cases with all their rows, which no chain of a case can miss.
    expect(await tampered('delete from case_events; delete from specimens; delete from cases')).toMatch(/is gone/);
    const last = 'select max(sequence) from case_events';
    const cut = `update cases set sequence = sequence - 1, head = (select previous from case_events where sequence = (${last})); delete from case_events where sequence = (${last})`;
    expect(await tampered(cut)).toMatch(/covered by the head of .* is gone/);
    expect(await tampered('update heads set at = at + 1')).toMatch(/does not fit/);
    expect(await tampered('delete from head_cases; delete from heads')).toMatch(/no head has the mark/);
    expect((await run(runAudit, 'verify', '--head', mark)).exit).toBe(0);
  });

  it('rows that were changed beside the line are named until somebody takes them for right, which is kept', async () => {
    expect((await run(runAudit, 'accept')).out).toBe('nothing was changed beside the line\n');
    const db = new Sqlite(at('data', 'neckline.db'));
    db.exec('update site_stocks set version = version + 1; update rosters set version = version + 1');
    db.close();
    expect((await run(runAudit, 'verify')).out).toMatch(/rosters: its rows are not what the line wrote/);
    expect((await run(runAudit, 'accept')).out).toMatch(/taken for right: rosters/);
    const after = await run(runAudit, 'verify');
    expect([after.exit, after.out]).toEqual([0, expect.stringMatching(/taken for right 20.* by .*: rosters/)]);
  });

  it('case tells who did and was sent what, with words only when asked, and keeps that somebody looked', async () => {
    const plain = await run(runAudit, 'case', code);
    expect(plain.exit).toBe(0);
    expect(plain.out).toMatch(new RegExp(`${name} \\(worker\\)\tdid\tcode-issued`));
    expect(plain.out).not.toMatch(/Write in pencil on all/);
    const words = await run(runAudit, 'case', code, '--texts');
    expect(words.out).toMatch(/was sent \(\w+\)\t\S+\t.*Write in pencil on all/);
    expect(words.out).toMatch(/command line: \S+\tlooked/);
  });
});

describe('parked events', () => {
  it('are listed without words, tried again, and dropped with a reason', async () => {
    const store = await open();
    const from = { channel: 'sms', address: '+000555010001' };
    const event = (id: string) =>
      ({
        id,
        programmeId: 'tamboro',
        keys: [id],
        at: 1,
        seed: new Uint8Array(16),
        kind: 'text',
        from,
        text: 'LIST',
        networkAt: null,
      }) as const;
    for (const id of ['stuck-1', 'stuck-2']) {
      const parked = { event: event(id), code: 'broken' };
      await store.commit([{ ...nothingChanged(id, 'tamboro', Date.now()), parked }]);
    }
    await store.close();
    const listed = await run(runParked, 'list');
    expect(listed.out).toMatch(/^stuck-1\t\S+\ttext\tbroken\tperson-w\nstuck-2/);
    expect(listed.out).not.toMatch(/LIST|555/);
    expect(await run(runParked, 'retry', 'stuck-1')).toMatchObject({ exit: 0, out: 'stuck-1: done\n' });
    expect(await run(runParked, 'retry', 'stuck-1')).toMatchObject({ exit: 2 });
    expect(await run(runParked, 'drop', 'stuck-2')).toMatchObject({ exit: 2 });
    expect(await run(runParked, 'drop', 'stuck-2', '--reason', 'doubled')).toMatchObject({ exit: 0 });
    expect((await run(runParked)).out).toBe('0 parked\n');
    const after = await open();
    const texts = await after.messages({ personId: 'person-w' });
    expect(texts.filter((one) => one.id.startsWith('stuck-1') && one.direction === 'out').length).toBeGreaterThan(0);
    await after.close();
  });
});

describe('what a restore or a retry leaves', () => {
  afterEach(everySosIsHeard);

  const parkAt = async (id: string, text: string, at: number): Promise<void> => {
    const store = await open();
    const event = {
      ...{ id, programmeId: 'tamboro', keys: [id], at, seed: new Uint8Array(16) },
      ...({ kind: 'text', from: { channel: 'sms', address: '+000555010001' }, text, networkAt: null } as const),
    };
    await store.commit([{ ...nothingChanged(id, 'tamboro', at), parked: { event, code: 'broken' } }]);
    await store.close();
  };
  const heard = async (): Promise<readonly string[]> => {
    const store = await open();
    const texts = await store.messages({ personId: 'person-w' });
    await store.close();
    return texts.filter((one) => one.direction === 'out').map((one) => one.text);
  };

  it('a case that the list erases again in an older copy leaves nobody with a pointer to nothing', async () => {
    await run(runKeys, 'backup-pair', at('keys', 'backup'));
    await run(runBackup, at('one.backup'));
    expect((await run(runErase, code, '--reason', 'patient-asked')).exit).toBe(0);
    await run(runBackup, at('two.backup'));
    rmSync(at('data'), { recursive: true });
    const restored = await run(runRestore, at('one.backup'), '--key', at('keys', 'backup.private'));
    expect(restored).toMatchObject({ exit: 0, out: expect.stringMatching(/1 erased again/) });
    const store = await open();
    const due = await store.dueBefore(Date.now() + 60_000, 99);
    const mends = due.filter((one) => one.what.kind === 'mend').map((one) => one.personId);
    expect(mends).toContain('person-w');
    expect(await store.verify()).toEqual([]);
    await store.close();
    expect((await run(runAudit, 'verify')).exit).toBe(0);
  });

  it('audit verify says with exit 1 where a conversation points to nothing, and who mends it', async () => {
    await run(runErase, code, '--reason', 'patient-asked');
    const db = new Sqlite(at('data', 'neckline.db'));
    db.exec("delete from due where name = 'mend'");
    db.close();
    const { exit, out } = await run(runAudit, 'verify');
    expect([exit, out]).toEqual([
      1,
      expect.stringMatching(/conversation of person-w: .* mends this at its next start/),
    ]);
  });

  it('a text that is tried again within the hour is said to be handled; an older one is asked for again', async () => {
    await parkAt('young', 'LIST', Date.now() - 600_000);
    expect((await run(runParked, 'retry', 'young')).out).toBe('young: done\n');
    expect((await heard()).filter((one) => /^I handle your text of \d\d:\d\d now/.test(one))).toHaveLength(1);
    const before = (await heard()).length;
    await parkAt('old', '1', Date.now() - 7_200_000);
    expect((await run(runParked, 'retry', 'old')).out).toBe('old: sent back\n');
    const texts = await heard();
    expect(texts.slice(before)).toEqual([expect.stringMatching(/too old now to answer a question.*send it again/i)]);
    expect((await run(runParked)).out).toBe('0 parked\n');
  });

  it('an old SOS is handled all the same', async () => {
    await parkAt('alarm', 'SOS', Date.now() - 7_200_000);
    expect((await run(runParked, 'retry', 'alarm')).out).toBe('alarm: done\n');
    expect((await heard()).join('\n')).toMatch(/HARD BREATHING/);
  });

  it('a phone begins anew by the command too', async () => {
    expect((await run(runParked, 'fresh', 'Nobody Here')).exit).toBe(2);
    expect(await run(runParked, 'fresh', name)).toMatchObject({ exit: 0 });
    const store = await open();
    const due = await store.dueBefore(Date.now() + 60_000, 99);
    expect(due.map((one) => one.what)).toContainEqual(expect.objectContaining({ kind: 'mend', caseId: null }));
    await store.close();
  });
});

describe('keys', () => {
  it('rotate changes the wrapping key of the line at rest, and everything is read as before', async () => {
    const before = readFileSync(at('keys', 'neckline.key'), 'utf8');
    const { exit, out } = await run(runKeys, 'rotate');
    expect([exit, out]).toEqual([0, expect.stringMatching(/^[1-9]\d* keys are under the new/)]);
    expect(readFileSync(at('keys', 'neckline.key'), 'utf8')).not.toBe(before);
    expect((await run(runAudit, 'verify')).exit).toBe(0);
  });
});

describe('files', () => {
  it('hold no name, number, initials with year or words of a text, nor do their names', async () => {
    await run(runKeys, 'backup-pair', at('keys', 'backup'));
    await run(runBackup, at('safe', 'one.backup'));
    const db = new Sqlite(at('data', 'neckline.db'));
    db.pragma('journal_mode = wal');
    db.exec('create table scratch (x); drop table scratch; update cases set version = version + 1');
    expect(existsSync(at('data', 'neckline.db-wal'))).toBe(true);
    const found = filesUnder(folder).flatMap((path) => {
      const bytes = readFileSync(path).toString('latin1');
      return hidden.filter((word) => bytes.includes(word) || path.includes(word)).map((word) => `${path}: ${word}`);
    });
    db.close();
    expect(found).toEqual([]);
  });
});
