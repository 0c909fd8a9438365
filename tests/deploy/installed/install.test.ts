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
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { schemaNames, writeRelease } from '../../../.tools/release.ts';
import { withTimes } from '../../gateway/gateway-line.ts';
import { GatewayPhones } from '../../gateway/gateway-phones.ts';
import { hasKannel, Kannel } from '../../gateway/kannel.ts';
import { answersOfADistrict } from '../../setup/answers-fixture.ts';
import { freePort } from '../../support/free-port.ts';
import { SmallSystem, whyNoSystem } from './small-system.ts';
import { allowedCalls, callsOf, traced } from './system-calls.ts';
import { startOf } from './unit-file.ts';

const obstacle = whyNoSystem() ?? (hasKannel ? null : 'the gateway is not installed');
const settings = '/etc/neckline/neckline.env';
const kept = fileURLToPath(new URL('../../store/kept/', import.meta.url));
const numbers = { w: '+000555010001', d: '+000555010003', l: '+000555010005', c: '+000555010007' } as const;

if (obstacle !== null && process.env.CI) {
  describe('the project’s own runs', () => {
    it('have a system on which the line can be installed', () => expect(obstacle).toBeNull());
  });
}

describe.skipIf(obstacle !== null)(`on a system of its own${obstacle === null ? '' : ` (${obstacle})`}`, () => {
  let system: SmallSystem;
  let folder: string;
  let ports: Kannel['ports'];
  let phones: GatewayPhones<keyof typeof numbers>;
  /** The archive, in the system. */
  let archive: string;
  let line: ChildProcess | null = null;

  beforeAll(async () => {
    system = new SmallSystem();
    folder = mkdtempSync(join(tmpdir(), 'neckline-installed-'));
    system.make();
    const [admin, boxes, send] = [await freePort(), await freePort(), await freePort()];
    ports = { admin, boxes, send, network: await freePort(), line: await freePort() };
    archive = bringIn(writeRelease(folder));
    system.copyIn(join(folder, 'install.sh'), '/root/install.sh');
  });
  afterAll(async () => {
    line?.kill('SIGKILL');
    await phones?.kannel.stop('SIGKILL');
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

  it('gets its programme, roster and settings from one file of answers', () => {
    writeFileSync(
      system.at('/etc/neckline/setup.yaml'),
      answersOfADistrict([['http://127.0.0.1:13013', `http://127.0.0.1:${ports.send}`]]),
    );
    const made = system.answers(
      'yes\n',
      'neckline',
      'setup',
      '--to',
      '/etc/neckline',
      '--from',
      '/etc/neckline/setup.yaml',
    );
    expect(made.status, made.stdout + made.stderr).toBe(0);
    expect(made.stdout).toContain('neckline keys backup-pair /etc/neckline/backup\n');
    for (const one of ['programme.yaml', 'roster.csv', 'neckline.env', 'sms-secret', 'sms-password']) {
      expect([one, owned(`/etc/neckline/${one}`)]).toEqual([one, '640 root:neckline']);
    }
    // Another line may have the usual port here. Nobody waits half an hour here, or for the morning.
    const written = readFileSync(system.at(settings), 'utf8');
    expect(written).toContain('NECKLINE_HTTP_PORT=8099\n');
    writeFileSync(system.at(settings), written.replace('PORT=8099', `PORT=${ports.line}`));
    const programme = system.at('/etc/neckline/programme.yaml');
    const times = { 'alcohol-minimum': '1m', 'watch-short': '2m', 'watch-long': '2m' };
    writeFileSync(programme, withTimes(readFileSync(programme, 'utf8'), times));
    const checked = system.run(
      'neckline',
      'check',
      '--programme',
      '/etc/neckline/programme.yaml',
      '--roster',
      '/etc/neckline/roster.csv',
    );
    expect(checked.stdout + checked.stderr).toMatch(/^ok/);
  });

  it('changes nothing when it is put in place again, from outside too', () => {
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
    const made = system.run('neckline', 'keys', 'backup-pair', '/etc/neckline/backup');
    expect(made.stderr).toBe('');
    expect(owned('/etc/neckline/backup.public')).toBe('644 root:root');
    expect(owned('/etc/neckline/backup.private')).toBe('600 root:root');
    system.run('mkdir', '-m', '700', '/root/safe');
    system.run('mv', '/etc/neckline/backup.private', '/root/safe/');
    // As on any shell: the settings are those of the unit.
    const imported = system.run('neckline', 'roster', 'import', '/etc/neckline/roster.csv');
    expect(imported.status, imported.stderr).toBe(0);
    expect(imported.stderr).toMatch(/\/var\/lib\/neckline\/neckline\.db.*Norvale/);
    expect(owned('/var/lib/neckline/neckline.db')).toBe('600 neckline:neckline');
    expect(owned('/var/lib/neckline-key/line.key')).toBe('600 neckline:neckline');
  });

  it('starts once a clinician has signed, and nothing else is missing but a backup and practice', () => {
    expect(system.run('neckline', 'sign', '--all', '--who', 'Dr Tano, physician').stdout).toMatch(/signed by Dr Tano/);
    const { status, stdout } = system.run('neckline', 'ready');
    expect(status).toBe(1);
    const stops = (stdout.match(/^- .*$/gm) ?? []).filter((one) => !/number of an example/.test(one));
    expect(stops.join('\n')).toMatch(/^- No backup.*\n- Nobody has done the practice.*\n- When the link is down.*$/);
  });

  it('takes a case over the real gateway from the lump to the answer acted on, with no system call that its unit forbids', async () => {
    const read = (name: string) => readFileSync(system.at(`/etc/neckline/${name}`), 'utf8').trim();
    phones = new GatewayPhones(new Kannel(folder, ports, read('sms-secret'), read('sms-password')), numbers);
    await phones.kannel.start();
    const log = join(folder, 'line.calls');
    const { command, env } = startOf(system, 'neckline.service');
    const [program, ...words] = [...traced(log), ...command];
    let out = '';
    line = spawn(program!, words, { env: { ...env, PATH: process.env.PATH }, stdio: ['ignore', 'pipe', 'pipe'] });
    line.stdout!.on('data', (part) => (out += part));
    line.stderr!.on('data', (part) => (phones.written += part));
    const ended = new Promise<number | null>((resolve) => line!.once('close', resolve));
    await expect
      .poll(() => (line!.exitCode === null ? out : phones.written), { timeout: 30_000 })
      .toContain('serves sms');
    code = await wholeCase();
    const { mark } = phones;
    await phones.says('w', 'SOS', 'w', /Take the needle out/);
    await phones.hears('d', /SOS/, mark);
    expect([200, 503]).toContain((await fetch(`http://127.0.0.1:${ports.line}/health`)).status);
    endUnder(line);
    expect(await ended).toBe(0);
    line = null;
    expect(forbidden(log, 'current/node', 'neckline.service')).toEqual([]);
    expect(owned('/var/lib/neckline/neckline.db')).toBe('600 neckline:neckline');
    const rows = new Database(system.at('/var/lib/neckline/neckline.db'), { readonly: true });
    // What install.sh holds a database against.
    expect(rows.prepare('SELECT name FROM kysely_migration ORDER BY name').pluck().all()).toEqual(schemaNames());
    rows.close();
  }, 480_000);

  /** The code of the specimen, in eight digits. */
  let code: string;

  /** A worker, a doctor and a technician, each text over the network. The shortest watch that a programme may have is waited for. */
  async function wholeCase(): Promise<string> {
    const says = phones.says.bind(phones);
    await says('w', 'JOIN', 'w', /PRACTICE/);
    await says('w', '23', 'w', /That is right/);
    const quick =
      'NEW AK 1982 F R 22x15x14 solid hypo irregular micro TSH normal felt linear signs 0 risks 0 bleeding 0';
    await says('w', quick, 'w', /Send OK/);
    for (const [words, answer] of [
      ['OK', /needle ADVISED/],
      ['1', /what do you have\?/],
      ['1357H', /is all done\?/],
      ['ALL', /stop you\?/],
    ] as const)
      await says('w', words, 'w', answer);
    const [, a, b] = await says('w', '50', 'w', /AK CODE (\d{4}) (\d{4})/);
    await says('w', `${a}${b}`, 'w', /step 8 of 8/);
    await says('w', '11', 'w', /EACH slide/);
    await says('w', '6600', 'w', /at what time/);
    await says('w', '9', 'w', new RegExp(`^${a} ${b}`));
    await says('w', '1', 'w', /in your book/);
    await says('w', '7', 'w', /in the alcohol/, 90_000);
    await says('w', '1', 'w', /3 all well/, 150_000);
    await says('w', '3', 'w', /5 yes 6 not yet/);
    await says('w', '5', 'w', /put jar and towel in a bag/);
    await says('w', `POST ${a}${b}`, 'l', new RegExp(`${a} ${b} FROM HADA CLINIC`));
    await says('l', `GOT ${a}${b} 2`, 'l', /received: 2 slides/);
    const [, challenge] = await says('l', `${a}${b} Thy2`, 'l', /YES (\d{4})/);
    const { mark } = phones;
    await says('l', `YES ${challenge} 1982`, 'w', /Do NOT reassure/);
    const [, tag] = await phones.hears('d', /Q(\d\d) RESULT AK F 1982/, mark);
    await says('w', '1', 'w', /./);
    await says('d', `${tag} 4`, 'w', /6 told/);
    await says('w', '6', 'w', /CLOSED/);
    return `${a}${b}`;
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

  it('lives through a month, and makes a backup, with no system call that the units forbid', () => {
    const { command, env } = startOf(system, 'neckline.service');
    const [chroot, user, root] = command;
    const played = join(folder, 'play.calls');
    const current = '/opt/neckline/current';
    const wholeCase = readFileSync(system.at(`${current}/flows/whole-case.play`), 'utf8');
    // A second patient waits for the needle meanwhile; the mornings of a month come and go.
    const month = [
      'phone c +000555010004 role=coordinator',
      'w> NEW BD 1975 F',
      'wait 9d',
      'w> LIST',
      'wait 15d',
      'c> LIST',
    ];
    writeFileSync(system.at('/opt/month.play'), `${wholeCase}\n${month.join('\n')}\n`);
    const words = [`${current}/node`, `${current}/dist/main.js`, 'play', '/opt/month.play'];
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
    expect(backups()).toHaveLength(1);
  });

  const backups = (): readonly string[] =>
    readdirSync(system.at('/var/backups/neckline')).filter((name) => /^\d{8}T\d{6}Z\.backup$/.test(name));

  it('comes back from its backup in a second place, where every chain holds and the case is closed', () => {
    const drill = (...words: readonly string[]) => system.run('neckline', ...words, '--env', '/etc/neckline/drill.env');
    system.run('install', '-d', '-m', '700', '-o', 'neckline', '-g', 'neckline', '/srv/drill', '/srv/drill/key');
    system.run('cp', '-p', '/var/lib/neckline-key/line.key', '/srv/drill/key/line.key');
    const own = readFileSync(system.at(settings), 'utf8');
    writeFileSync(
      system.at('/etc/neckline/drill.env'),
      own.replace('/var/lib/neckline-key/', '/srv/drill/key/').replace('=/var/lib/neckline\n', '=/srv/drill/data\n'),
    );
    const key = '/etc/neckline/backup.private';
    system.run('install', '-m', '640', '-o', 'root', '-g', 'neckline', '/root/safe/backup.private', key);
    const back = drill('restore', `/var/backups/neckline/${backups()[0]}`, '--key', key, '--erased', '0');
    expect(back.stdout + back.stderr).toContain('/srv/drill/data/neckline.db: as of');
    rmSync(system.at(key));
    expect(drill('audit', 'verify').stdout).toContain('every chain holds');
    expect(drill('audit', 'case', code).stdout).toMatch(/Ada Lumo \(worker\)\tdid\t[\s\S]*closed/);
  });

  it('goes on with the case that the version before these commands had left at the bedside, to its answer', () => {
    mkdirSync(system.at('/srv/before'));
    writeFileSync(system.at('/srv/before/neckline.db'), gunzipSync(readFileSync(join(kept, '0014.db.gz'))));
    system.copyIn(join(kept, 'kept.key'), '/srv/before/neckline.db.key');
    system.copyIn(join(kept, 'goes-on.play'), '/srv/before/goes-on.play');
    const played = system.run('neckline', 'play', '/srv/before/goes-on.play', '--db', '/srv/before/neckline.db');
    expect(played.stdout + played.stderr).not.toMatch(/failed line|bad line/);
    expect(played.status).toBe(0);
    expect(played.stdout).toMatch(/needs a specialist hospital/);
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
