import { type ChildProcess, execFileSync, spawn, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { schemaNames, writeRelease } from '../../../.tools/release.ts';
import { freePort } from '../../support/free-port.ts';
import { type GatewayStub, gatewayStub } from './gateway-stub.ts';
import { filledExample, programmeOfADistrict, rosterOfADistrict } from './programme-of-a-district.ts';
import { SmallSystem, whyNoSystem } from './small-system.ts';
import { allowedCalls, callsOf, traced } from './system-calls.ts';
import { startOf } from './unit-file.ts';

const obstacle = whyNoSystem();
const secret = 'shared-secret-of-this-test';
const settings = '/etc/neckline/neckline.env';

if (obstacle !== null && process.env.CI) {
  describe('the project’s own runs', () => {
    it('have a system on which the line can be installed', () => expect(obstacle).toBeNull());
  });
}

describe.skipIf(obstacle !== null)(`on a system of its own${obstacle === null ? '' : ` (${obstacle})`}`, () => {
  let system: SmallSystem;
  let folder: string;
  let gateway: GatewayStub;
  let port: number;
  /** The archive, in the system. */
  let archive: string;
  let line: ChildProcess | null = null;

  beforeAll(async () => {
    system = new SmallSystem();
    folder = mkdtempSync(join(tmpdir(), 'neckline-installed-'));
    system.make();
    gateway = await gatewayStub();
    port = await freePort();
    archive = bringIn(writeRelease(folder));
    system.copyIn(join(folder, 'install.sh'), '/root/install.sh');
  });
  afterAll(async () => {
    line?.kill('SIGKILL');
    await gateway?.close();
    system?.remove();
    rmSync(folder, { recursive: true, force: true });
  });

  function bringIn(file: string): string {
    for (const end of ['', '.sha256']) system.copyIn(`${file}${end}`, `/root/${basename(file)}${end}`);
    return `/root/${basename(file)}`;
  }
  const install = (...words: readonly string[]) => system.run('bash', '/root/install.sh', ...words);
  const says = (words: readonly string[], exit: number, ...wanted: readonly RegExp[]): void => {
    const { status, stdout, stderr } = install(...words);
    for (const one of wanted) expect(stdout + stderr).toMatch(one);
    expect(status, stdout + stderr).toBe(exit);
  };
  const current = (): string => readlinkSync(system.at('/opt/neckline/current'));
  /** Mode and owner of a place, as `750 root:neckline`. */
  const owned = (path: string): string => system.run('stat', '-c', '%a %U:%G', path).stdout.trim();

  it('is packed into the same bytes each time, without what only develops it', () => {
    const packed = join(folder, basename(archive));
    const again = join(folder, 'again');
    expect(sumOf(writeRelease(again))).toBe(sumOf(packed));
    const names = execFileSync('tar', ['-tzf', packed], { encoding: 'utf8', maxBuffer: 2 ** 26 }).split('\n');
    for (const name of names) {
      expect(name).not.toMatch(
        /\.(map|ts)$|^neckline-[^/]+\/(src|tests|\.tools)\/|\/Release\/(?!$|better_sqlite3\.node)/,
      );
    }
    // What an operator carries over a slow line.
    expect(statSync(packed).size).toBeLessThan(4_000_000);
  });

  it('is put in place by one script, with a user, folders and settings of its own', () => {
    says(
      [archive],
      0,
      /0\.1\.0: installed/,
      /What is left to do:\n1\. Say what .*: neckline setup --to \/etc\/neckline\n/,
    );
    expect(owned('/etc/neckline')).toBe('750 root:neckline');
    expect(owned(settings)).toBe('640 root:neckline');
    for (const own of ['/var/lib/neckline', '/var/lib/neckline-key', '/var/backups/neckline']) {
      expect(owned(own)).toBe('700 neckline:neckline');
    }
    for (const program of ['/opt/neckline', '/opt/neckline/current/', '/usr/local/bin/neckline']) {
      expect(owned(program)).toBe('755 root:root');
    }
    expect(current()).toBe('0.1.0');
    expect(system.run('getent', 'passwd', 'neckline').stdout).toMatch(/:\/var\/lib\/neckline:\/usr\/sbin\/nologin$/m);
    for (const unit of ['neckline.service', 'neckline-backup.service', 'neckline-alert@.service']) {
      expect(owned(`/etc/systemd/system/${unit}`)).toBe('644 root:root');
    }
    expect(readlinkSync(system.at('/etc/systemd/system/timers.target.wants/neckline-backup.timer'))).toBe(
      '/etc/systemd/system/neckline-backup.timer',
    );
  });

  it('changes nothing when it is put in place again, from outside too', () => {
    writeFileSync(
      system.at(settings),
      filledExample({
        NECKLINE_PROGRAMME: '/etc/neckline/programme.yaml',
        NECKLINE_BACKUP_KEY: '/etc/neckline/backup.public',
        NECKLINE_HTTP_PORT: String(port),
        NECKLINE_SMS_GATEWAY: 'kannel',
        NECKLINE_SMS_SEND_URL: gateway.sendUrl,
        NECKLINE_SMS_USER: 'neckline',
        NECKLINE_SMS_PASSWORD: 'account-password',
        NECKLINE_SMS_NUMBER: '1234',
        NECKLINE_SMS_SECRET: secret,
        NECKLINE_SMS_PREFIXES: '+000555',
      }),
    );
    const before = everyFile();
    says([archive], 0, /is there already/);
    expect(everyFile()).toEqual(before);
    const script = join(folder, 'install.sh');
    const outside = spawnSync('bash', [script, join(folder, basename(archive)), '--root', system.root], {
      encoding: 'utf8',
    });
    expect(outside.stderr.replace(/^Warning: .*extra certs.*\n/gm, '')).toBe('');
    expect(outside.status).toBe(0);
    expect(everyFile()).toEqual(before);
  });

  /** Every file that the installation is about: mode, owner and content. */
  function everyFile(): readonly string[] {
    const places = [
      'opt/neckline',
      'etc/neckline',
      'etc/systemd',
      'usr/local/bin',
      'var/lib/neckline',
      'etc/passwd',
      'etc/group',
    ];
    const listed = execFileSync('find', [...places, '-printf', '%p %m %u %g %l\n'], {
      cwd: system.root,
      encoding: 'utf8',
    });
    const content = execFileSync('find', [...places, '-type', 'f'], { cwd: system.root, encoding: 'utf8' });
    const sums = content
      .trim()
      .split('\n')
      .map((name) => `${name} ${sumOf(system.at(name))}`);
    return [...listed.split('\n'), ...sums].sort();
  }
  const sumOf = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

  it('takes no archive that was changed on the way, and none for another Node', () => {
    const changed = join(folder, 'changed.tar.gz');
    writeFileSync(changed, readFileSync(join(folder, basename(archive))).subarray(0, 1_000_000));
    system.copyIn(changed, '/root/changed.tar.gz');
    says(['/root/changed.tar.gz'], 2, /no archive of the line, or it is damaged/);
    writeFileSync(system.at('/root/changed.tar.gz.sha256'), `${'0'.repeat(64)}  changed.tar.gz\n`);
    says(['/root/changed.tar.gz'], 2, /not the one that \/root\/changed\.tar\.gz\.sha256 names/);
    says([archive.replace('0.1.0', '9.9.9')], 2, /there is no such file/);
    writeFileSync(
      system.at('/opt/older-node'),
      '#!/bin/sh\ncase $* in *version) echo v18.19.0 ;; *) echo linux x64 108 ;; esac\n',
      { mode: 0o755 },
    );
    says(
      [archive, '--node', '/opt/older-node'],
      2,
      /\/opt\/older-node is "linux x64 108" \(Node v18\.19\.0\)\. Install Node 20/,
    );
    expect(readdirSync(system.at('/opt/neckline')).sort()).toEqual(['.lock', '0.1.0', 'current']);
  });

  it('gives the operator the command, which leaves to the line’s user what is the line’s', () => {
    writeFileSync(system.at('/etc/neckline/programme.yaml'), programmeOfADistrict());
    writeFileSync(system.at('/etc/neckline/roster.csv'), rosterOfADistrict);
    const made = system.run('neckline', 'keys', 'backup-pair', '/etc/neckline/backup');
    expect(made.stderr).toBe('');
    expect(owned('/etc/neckline/backup.public')).toBe('644 root:root');
    expect(owned('/etc/neckline/backup.private')).toBe('600 root:root');
    rmSync(system.at('/etc/neckline/backup.private'));
    // As on any shell: the settings are those of the unit.
    const imported = system.run('neckline', 'roster', 'import', '/etc/neckline/roster.csv');
    expect(imported.status, imported.stderr).toBe(0);
    expect(imported.stderr).toMatch(/\/var\/lib\/neckline\/neckline\.db.*Lower Tamboro/);
    expect(owned('/var/lib/neckline/neckline.db')).toBe('600 neckline:neckline');
    expect(owned('/var/lib/neckline-key/line.key')).toBe('600 neckline:neckline');
  });

  it('answers a text under its unit, first aid too, with no system call that the unit forbids', async () => {
    const log = join(folder, 'line.calls');
    const { command, env } = startOf(system, 'neckline.service');
    const [program, ...words] = [...traced(log), ...command];
    const written = { out: '', err: '' };
    line = spawn(program!, words, { env: { ...env, PATH: process.env.PATH }, stdio: ['ignore', 'pipe', 'pipe'] });
    line.stdout!.on('data', (part) => (written.out += part));
    line.stderr!.on('data', (part) => (written.err += part));
    const ended = new Promise<number | null>((resolve) => line!.once('close', resolve));
    await expect
      .poll(() => line!.exitCode ?? written.out, { timeout: 30_000, message: written.err })
      .toContain('serves sms');
    await texts('hello', /practice/i);
    await texts('SOS', /Take the needle out[\s\S]*I have texted Dr Tano/);
    const { status } = await fetch(`http://127.0.0.1:${port}/health`);
    expect([200, 503]).toContain(status);
    endUnder(line);
    expect(await ended).toBe(0);
    line = null;
    expect(forbidden(log, 'current/node', 'neckline.service')).toEqual([]);
    expect(owned('/var/lib/neckline/neckline.db')).toBe('600 neckline:neckline');
    const rows = new Database(system.at('/var/lib/neckline/neckline.db'), { readonly: true });
    // What install.sh holds a database against.
    expect(rows.prepare('SELECT name FROM kysely_migration ORDER BY name').pluck().all()).toEqual(schemaNames());
    rows.close();
  });

  let number = 0;
  /** Ada writes; resolves once she was answered so. */
  async function texts(words: string, answer: RegExp): Promise<void> {
    const before = gateway.texts.length;
    number += 1;
    const query = new URLSearchParams({
      id: `m${number}`,
      from: '+000555010001',
      to: '1234',
      time: String(Math.floor(Date.now() / 1000)),
    });
    const sent = await fetch(`http://127.0.0.1:${port}/sms/in?${query}`, {
      method: 'POST',
      headers: { 'x-neckline-secret': secret, 'content-type': 'text/plain' },
      body: words,
    });
    expect(sent.status).toBe(200);
    const toAda = () => gateway.texts.slice(before).filter(({ to }) => to === '+000555010001');
    await expect
      .poll(
        () =>
          toAda()
            .map(({ text }) => text)
            .join('\n'),
        { timeout: 20_000 },
      )
      .toMatch(answer);
  }

  /** The traced program, not who traces it. */
  function endUnder(tracer: ChildProcess): void {
    const child = readFileSync(`/proc/${tracer.pid}/task/${tracer.pid}/children`, 'utf8').trim();
    process.kill(Number(child), 'SIGTERM');
  }

  const forbidden = (log: string, program: string, unit: string): readonly string[] => {
    const calls = callsOf(log, program);
    expect(calls.size).toBeGreaterThan(20);
    const allowed = allowedCalls(system.at(`/etc/systemd/system/${unit}`));
    return [...calls].filter((call) => !allowed.has(call));
  };

  it('plays a whole case, and makes a backup, with no system call that the units forbid', () => {
    const { command, env } = startOf(system, 'neckline.service');
    const [chroot, user, root] = command;
    const played = join(folder, 'play.calls');
    const program = '/opt/neckline/current/node';
    const words = [
      program,
      '/opt/neckline/current/dist/main.js',
      'play',
      '/opt/neckline/current/flows/whole-case.play',
    ];
    const [strace, ...play] = [...traced(played), chroot, user!, root!, ...words];
    expect(spawnSync(strace!, play, { env: { PATH: process.env.PATH }, encoding: 'utf8' }).status).toBe(0);
    expect(forbidden(played, 'current/node', 'neckline.service')).toEqual([]);

    const copied = join(folder, 'backup.calls');
    const backup = startOf(system, 'neckline-backup.service');
    const [again, ...copy] = [...traced(copied), ...backup.command];
    const made = spawnSync(again!, copy, { env: { ...env, PATH: process.env.PATH }, encoding: 'utf8' });
    expect(made.stderr.replace(/^Warning: .*\n/gm, ''), made.stdout).not.toMatch(/error|refused|cannot/);
    expect(made.status).toBe(0);
    expect(forbidden(copied, './node', 'neckline-backup.service')).toEqual([]);
    expect(
      readdirSync(system.at('/var/backups/neckline')).filter((name) => /^\d{8}T\d{6}Z\.backup$/.test(name)),
    ).toHaveLength(1);
  });

  it('leaves its place to a newer version, after a backup, and takes it back', () => {
    // What a manager of services would be asked: it runs here under no name.
    mkdirSync(system.at('/run/systemd/system'), { recursive: true });
    const asked = () => readFileSync(system.at('/root/asked'), 'utf8').trim().split('\n');
    const answers = (backup: number) => {
      const cases = `start\\ neckline-backup.service) exit ${backup} ;; is-active*) exit 3 ;; esac`;
      writeFileSync(system.at('/usr/bin/systemctl'), `#!/bin/sh\necho "$*" >>/root/asked\ncase "$*" in ${cases}\n`, {
        mode: 0o755,
      });
    };
    const newer = bringIn(anotherVersion('0.2.0', schemaNames()));
    answers(1);
    says([newer], 2, /The backup before the upgrade failed, nothing was changed/);
    expect(current()).toBe('0.1.0');
    answers(0);
    says([newer], 0, /a backup was made first/, /0\.2\.0: installed/);
    expect(current()).toBe('0.2.0');
    expect(asked()).toEqual(
      expect.arrayContaining(['start neckline-backup.service', 'daemon-reload', 'start neckline-backup.timer']),
    );
    expect(system.run('neckline', '--help').stdout).toMatch(/^neckline COMMAND/);
    says(['--back'], 0, /0\.1\.0: runs again/);
    expect(current()).toBe('0.1.0');
    says(['--back'], 0, /0\.2\.0: runs again/);
    expect(statSync(system.at(settings)).size).toBeGreaterThan(1000);
  });

  it('does not go back to a version that cannot read what the newer one wrote, nor is put over its data', () => {
    const database = new Database(system.at('/var/lib/neckline/neckline.db'));
    database.prepare('INSERT INTO kysely_migration (name, timestamp) VALUES (?, ?)').run('9999-later', '2030-03-04');
    database.close();
    system.run('chown', '-R', 'neckline:neckline', '/var/lib/neckline');
    const words =
      /a newer version than 0\.1\.0 wrote this database \(9999-later\), and 0\.1\.0 cannot read it\. Nothing was changed/;
    says(['--back'], 2, words);
    says([archive], 2, words);
    expect(current()).toBe('0.2.0');
    const fitting = bringIn(anotherVersion('0.3.0', [...schemaNames(), '9999-later']));
    says([fitting, '--without-backup'], 0, /0\.3\.0: installed/);
    // Of what came before only the last one is kept.
    expect(readdirSync(system.at('/opt/neckline')).sort()).toEqual(['.lock', '0.2.0', '0.3.0', 'current', 'previous']);
  });

  /** The same program under another number, which knows other changes of the database. */
  function anotherVersion(version: string, schema: readonly string[]): string {
    const top = join(folder, `neckline-${version}`);
    mkdirSync(top);
    execFileSync('tar', ['-xzf', join(folder, basename(archive)), '-C', top, '--strip-components=1']);
    const facts = readFileSync(join(top, 'RELEASE'), 'utf8');
    writeFileSync(
      join(top, 'RELEASE'),
      facts.replace(/^VERSION=.*$/m, `VERSION=${version}`).replace(/^SCHEMA=.*$/m, `SCHEMA=${schema.join(' ')}`),
    );
    const manifest = readFileSync(join(top, 'MANIFEST.sha256'), 'utf8');
    writeFileSync(
      join(top, 'MANIFEST.sha256'),
      manifest.replace(/^\w+ {2}RELEASE$/m, `${sumOf(join(top, 'RELEASE'))}  RELEASE`),
    );
    const file = join(folder, `neckline-${version}.tar.gz`);
    execFileSync('tar', ['-czf', file, '-C', folder, basename(top)]);
    writeFileSync(`${file}.sha256`, `${sumOf(file)}  ${basename(file)}\n`);
    return file;
  }
});
