import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { readSettings } from '../../src/config.ts';
import { environmentOf } from './installed/unit-file.ts';

const folder = new URL('../../deploy/', import.meta.url);
const read = (name: string): string => readFileSync(new URL(name, folder), 'utf8');
const unit = (name: string): readonly string[] => read(name).split('\n');
const names = readdirSync(folder).filter((name) => /\.(service|timer)$/.test(name));
const ownServices = ['neckline.service', 'neckline-backup.service', 'neckline-alert@.service'];

describe('the systemd units', () => {
  it.each(ownServices)('%s writes no picture of its memory, and may do no more than it needs', (name) => {
    const lines = unit(name);
    for (const line of [
      'LimitCORE=0',
      'UMask=0077',
      'User=neckline',
      'NoNewPrivileges=yes',
      'CapabilityBoundingSet=',
      'ProtectSystem=strict',
      'ProtectHome=yes',
      'ProtectProc=invisible',
      'PrivateTmp=yes',
      'PrivateDevices=yes',
      'PrivateUsers=yes',
      'RestrictSUIDSGID=yes',
      'RestrictNamespaces=yes',
      'LockPersonality=yes',
      'SystemCallFilter=@system-service',
      'SystemCallFilter=~@privileged @resources',
    ]) {
      expect(lines).toContain(line);
    }
  });

  it.each(ownServices)('%s works with the settings, the folder and the Node that install.sh puts in place', (name) => {
    const lines = unit(name);
    const script = read('install.sh');
    expect(lines).toContain('EnvironmentFile=/etc/neckline/neckline.env');
    expect(script).toContain('settings=/etc/neckline/neckline.env');
    expect(lines).toContain('WorkingDirectory=/opt/neckline/current');
    expect(script).toMatch(/^program=\/opt\/neckline /m);
  });

  it('the line is not started over and over when it refuses to start', () => {
    expect(unit('neckline.service')).toContain('RestartPreventExitStatus=2');
  });

  it('the backup works beside the data and puts its files elsewhere', () => {
    const lines = unit('neckline-backup.service');
    expect(lines).toContain('ReadWritePaths=/var/lib/neckline /var/backups/neckline');
    expect(lines).toContain('PrivateNetwork=yes');
    expect(read('install.sh')).toMatch(/install -d -m 0700 -o neckline -g neckline .*\/var\/backups\/neckline/);
  });

  it('a backup that fails, and a line that ends for good, are somebody’s matter', () => {
    const onFailureOf = (name: string) => unit(name).find((line) => line.startsWith('OnFailure='));
    expect(onFailureOf('neckline-backup.service')).toBe('OnFailure=neckline-alert@backup-failed.service');
    expect(onFailureOf('neckline.service')).toBe('OnFailure=neckline-alert@line-down.service');
    const alert = unit('neckline-alert@.service');
    expect(alert).toContain('SyslogLevel=err');
    expect(alert).toContain('ExecStart=/opt/neckline/current/node dist/main.js alert %i');
    // Before there is anything to copy no backup fails.
    expect(unit('neckline-backup.service')).toContain('ConditionPathExists=/var/lib/neckline/neckline.db');
  });

  const hasAnalyzer = spawnSync('systemd-analyze', ['--version']).status === 0;
  if (process.env.CI) it('the project’s own runs have what analyzes them', () => expect(hasAnalyzer).toBe(true));

  it.skipIf(!hasAnalyzer)('are understood by systemd, and its own measure calls them hardly exposed', () => {
    const paths = names.map((name) => fileURLToPath(new URL(name, folder)));
    const verified = spawnSync('systemd-analyze', ['verify', ...paths], { encoding: 'utf8' });
    // The program is installed elsewhere than here.
    const said = verified.stderr
      .split('\n')
      .filter((line) => !/Command \/opt\/neckline\/\S+ is not executable/.test(line));
    expect(said.filter((line) => line.includes('neckline'))).toEqual([]);
    for (const name of ownServices) {
      const path = fileURLToPath(new URL(name, folder));
      const measured = spawnSync('systemd-analyze', ['security', '--offline=yes', '--no-pager', path], {
        encoding: 'utf8',
      });
      const exposure = Number(/Overall exposure level for \S+: ([\d.]+)/.exec(measured.stdout)?.[1]);
      expect(exposure, name).toBeLessThan(2);
    }
  });
});

describe('the explained example of settings', () => {
  const filled = (more: Readonly<Record<string, string>>) =>
    readSettings({ ...environmentOf(read('neckline.env.example')), ...more });

  it('has no fault as it stands, and fits the unit: data, key and no bench', () => {
    const settings = filled({});
    expect(settings).toMatchObject({ ok: true });
    if (!settings.ok) return;
    expect(settings.settings.NECKLINE_BENCH_PORT).toBe(0);
    const kept = unit('neckline.service').find((line) => line.startsWith('StateDirectory='))!;
    expect(kept).toBe('StateDirectory=neckline neckline-key');
    expect(settings.settings.NECKLINE_DATA).toBe('/var/lib/neckline');
    expect(settings.settings.NECKLINE_KEY_FILE).toMatch(/^\/var\/lib\/neckline-key\/[^/]+$/);
  });

  it('no setting in it or in the papers has a comment behind it, which would be a part of its value', () => {
    const papers = readdirSync(folder).filter((name) => /\.(md|example|yaml)$/.test(name));
    const lines = papers.flatMap((name) =>
      read(name)
        .split('\n')
        .map((line) => `${name}: ${line}`),
    );
    expect(
      lines.filter(
        (line) => /: +(NECKLINE_\w+|DATABASE_URL\w*)=\S* +#/.test(line) || /: (NECKLINE_\w+)=.* #/.test(line),
      ),
    ).toEqual([]);
  });
});
