import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { settingsOfUnit, takeSettingsOption } from '../../src/cli/settings-option.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { runMain as run } from '../support/run-main.ts';

let folder: string;
const at = (...parts: string[]): string => join(folder, ...parts);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-env-'));
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

function settingsFile(...lines: string[]): string {
  writeFileSync(at('line.env'), lines.join('\n'));
  return at('line.env');
}

describe('--env FILE', () => {
  it.each([
    [['import', 'a.csv', '--env', 'f'], ['import', 'a.csv'], 'f'],
    [['--env=f', 'import', 'a.csv', '--change'], ['import', 'a.csv', '--change'], 'f'],
    [['import', 'a.csv'], ['import', 'a.csv'], null],
  ])('stands anywhere among %j', (given, args, file) => {
    expect(takeSettingsOption(given)).toEqual({ args, file, fault: null });
  });

  it.each([[['verify', '--env']], [['--env=']], [['--env', '--help']], [['--env', 'a', '--env', 'b']]])(
    'is refused in %j',
    async (args) => {
      expect(await run('audit', ...args)).toMatchObject({
        exit: 2,
        out: '',
        err: expect.stringMatching(/^[^\n]*--env: /),
      });
    },
  );

  it.each([
    ...[
      'start',
      'check',
      'cards',
      'draw',
      'roster',
      'invite',
      'audit',
      'parked',
      'compare',
      'backup',
      'restore',
      'keys',
      'erase',
    ],
    'retention',
  ])('is in the help of %s', async (name) => {
    expect((await run(name, '--help')).out).toMatch(/\n--env FILE {2}settings of the line/);
  });

  it.each(['play', 'assess', 'category'])('is none of %s, which reads no settings', async (name) => {
    expect((await run(name, '--help')).out).not.toContain('--env');
  });

  it('has a command act on the line of the file, wherever it is called', async () => {
    writeFileSync(
      at('people.csv'),
      'name,roles,channel,address,site,locale\nAda Lumo,worker,sms,+000555010001,oruma,en\n',
    );
    const file = settingsFile(`NECKLINE_DATA=${at('data')}`, `NECKLINE_PROGRAMME=${ownProgramme(folder)}`);
    const named = `${at('data', 'neckline.db')}; programme Tamboro thyroid line (tamboro) of ${at('programme.yaml')}\n`;
    expect(await run('roster', 'import', at('people.csv'), '--env', file)).toEqual({
      exit: 0,
      out: '1 new, 0 changed, 0 the same, 0 left out\n',
      err: `a new database is made: ${named}`,
    });
    expect(await run('roster', 'import', at('people.csv'), `--env=${file}`)).toEqual({
      exit: 0,
      out: '0 new, 0 changed, 1 the same, 0 left out\n',
      err: `database ${named}`,
    });
    vi.stubEnv('NECKLINE_DATA', at('elsewhere'));
    expect(await run('audit', 'verify', '--env', file)).toMatchObject({
      exit: 2,
      out: '',
      err: expect.stringMatching(/^\S+line\.env:1: NECKLINE_DATA: expected what the environment [^\n]*\n$/),
    });
  });
});

describe('the settings file of a unit', () => {
  const unit = (text: string): string => {
    writeFileSync(at('neckline.service'), text);
    return at('neckline.service');
  };
  const service = (folderOfProgram: string, file = at('line.env')): string =>
    unit(
      `[Service]\nEnvironmentFile=${file}\nWorkingDirectory=${folderOfProgram}\nExecStart=/usr/bin/node dist/main.js start\n`,
    );

  it('is that of the line whose program is called, also by the link under which it is installed', () => {
    mkdirSync(at('1.2.3'));
    symlinkSync(at('1.2.3'), at('current'));
    settingsFile('NECKLINE_LOG=warn');
    expect(settingsOfUnit([at('none'), service(at('current'))], at('1.2.3'))).toBe(at('line.env'));
    expect(settingsOfUnit([service(at('1.2.3'))], at('current'))).toBe(at('line.env'));
  });

  it('is not that of another program, nor one of several, and there may be no unit', () => {
    mkdirSync(at('mine'));
    mkdirSync(at('other'));
    settingsFile('');
    expect(settingsOfUnit([service(at('other'))], at('mine'))).toBeNull();
    expect(settingsOfUnit([service(at('gone'))], at('mine'))).toBeNull();
    expect(settingsOfUnit([at('none')], at('mine'))).toBeNull();
    const two = `EnvironmentFile=/a\nEnvironmentFile=/b\nWorkingDirectory=${at('mine')}\n`;
    expect(settingsOfUnit([unit(two)], at('mine'))).toBeNull();
  });

  it('that cannot be read is said, but not where the unit itself gave its settings', () => {
    mkdirSync(at('mine'));
    const unread = service(at('mine'), at('none.env'));
    expect(settingsOfUnit([unread], at('mine'))).toBe(at('none.env'));
    vi.stubEnv('NECKLINE_DATA', at('data'));
    expect(settingsOfUnit([unread], at('mine'))).toBeNull();
  });
});
