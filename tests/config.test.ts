import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readSettings, realParts, settingNames } from '../src/config.ts';

const folder = mkdtempSync(join(tmpdir(), 'neckline-config-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

function settings(environment: Record<string, string>) {
  const read = readSettings(environment);
  if (!read.ok) throw new Error(read.faults.join('\n'));
  return read.settings;
}

function faults(environment: Record<string, string>): readonly string[] {
  const read = readSettings(environment);
  return read.ok ? [] : read.faults;
}

describe('settings', () => {
  it('need nothing: the phone bench on its port, data beside the caller', () => {
    expect(settings({})).toEqual({
      NECKLINE_DATA: './data',
      NECKLINE_HTTP_PORT: 8099,
      NECKLINE_HTTP_HOST: '127.0.0.1',
      NECKLINE_LOG: 'info',
    });
    expect(realParts(settings({}))).toEqual([]);
  });

  it('take an empty value as an absent one', () => {
    const empty = Object.fromEntries(settingNames.map((name) => [name, '  ']));
    expect(settings(empty)).toEqual(settings({}));
  });

  it('cannot be changed later', () => {
    expect(Object.isFrozen(settings({}))).toBe(true);
  });

  it('take a secret from a file, without the line end', () => {
    const path = file('token', '123456:abcdef\n');
    expect(settings({ NECKLINE_TELEGRAM_TOKEN_FILE: path }).NECKLINE_TELEGRAM_TOKEN).toBe('123456:abcdef');
  });

  it('take an empty secret file as an absent secret', () => {
    expect(settings({ NECKLINE_SMS_SECRET_FILE: file('empty', '\n') }).NECKLINE_SMS_SECRET).toBeUndefined();
  });

  it('let an empty line stay that an older example had', () => {
    expect(settings({ NECKLINE_NO_LONGER: '' })).toEqual(settings({}));
  });

  it.each([
    ['NECKLINE_BENCH_PORT', '70000'],
    ['NECKLINE_BENCH_PORT', '-1'],
    ['NECKLINE_BENCH_PORT', '0x50'],
    ['NECKLINE_BENCH_PORT', '80.5'],
    ['NECKLINE_HTTP_PORT', 'eighty'],
    ['NECKLINE_LOG', 'loud'],
    ['NECKLINE_SMS_GATEWAY', 'carrier-pigeon'],
    ['NECKLINE_SMS_SEND_URL', 'not a url'],
    ['NECKLINE_SMS_SEND_URL', 'javascript:alert(1)'],
    ['NECKLINE_TELEGRAM_API_ROOT', 'ftp://api.invalid'],
    ['NECKLINE_SMS_PER_SECOND', '0.00'],
    ['NECKLINE_SMS_PER_SECOND', 'ten'],
    ['NECKLINE_SMS2_PER_DAY', '0.5'],
    ['NECKLINE_SMS2_SECRET', 'short'],
    ['NECKLINE_SMS_SECRET', 'short'],
    ['NECKLINE_SMS_SECRET', 'only-fifteen-ch'],
    ['NECKLINE_SMS_SECRET', 'a,b-long-enough-by-far'],
    ['NECKLINE_SMS_SECRET', 'long-enough-by-far,b'],
    ['NECKLINE_SMS_SECRET', 'long-enough by-far'],
    ['NECKLINE_SMS_SECRET', 'the-first-of-three-1,the-second-of-three,the-third-of-three-3'],
    ['NECKLINE_SMS_QUERY_SECRET', 'perhaps'],
    ['NECKLINE_TELEGRAM_SECRET', 'only-fifteen-ch'],
    ['DATABASE_URL', 'mysql://db.invalid/x'],
    ['NECKLINE_BENCH_PROT', '1'],
    ['NECKLINE_SMS_SECRET_FILE', '/nonexistent/key'],
  ])('%s = %s is one line that names the setting and never its value', (name, value) => {
    const found = faults({ [name]: value });
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(new RegExp(`^${name}: `));
    expect(found[0]).not.toContain(value);
    expect(found[0]).not.toContain('\n');
  });

  it('refuse a name that is no setting', () => {
    expect(faults({ NECKLINE_DAYTIME: '7', HOME: '/root' })).toEqual(['NECKLINE_DAYTIME: no such setting']);
  });

  it('take two secrets of sixteen characters during a change', () => {
    for (const two of ['sixteen-letters1,sixteen-letters2', 'sixteen-letters1 sixteen-letters2', 'sixteen-letters1'])
      expect(settings({ NECKLINE_SMS_SECRET: two }).NECKLINE_SMS_SECRET).toBe(two);
  });

  it('report every fault, not the first only', () => {
    expect(faults({ NECKLINE_LOG: 'loud', NECKLINE_HTTP_PORT: 'x', NECKLINE_SMS_GATEWAY: 'y' })).toHaveLength(3);
  });

  it('refuse a secret that is given twice', () => {
    const twice = {
      NECKLINE_SMS_SECRET: 'long-enough-by-far',
      NECKLINE_SMS_SECRET_FILE: file('twice', 'long-enough-as-well'),
    };
    expect(faults(twice)).toEqual([expect.stringMatching(/^NECKLINE_SMS_SECRET: .*twice/)]);
  });

  it.each([
    ['Telegram', { NECKLINE_TELEGRAM_TOKEN: '123456:abcdef' }],
    ['SMS', { NECKLINE_SMS_GATEWAY: 'kannel' }],
    ['SMS', { NECKLINE_SMS_SEND_URL: 'http://127.0.0.1:13013/cgi-bin/sendsms' }],
    ['PostgreSQL', { DATABASE_URL: 'postgres://db.invalid/neckline' }],
  ])('say that %s is configured', (part, environment) => {
    expect(realParts(settings(environment))).toEqual([part]);
  });

  it('know every setting of the contract', () => {
    const contract =
      'DATA BENCH_PORT HTTP_PORT SMS_GATEWAY SMS_SEND_URL SMS_USER SMS_PASSWORD SMS_NUMBER SMS_SECRET SMS_PREFIXES SMS_MAPPING HTTP_HOST TELEGRAM_SECRET LOG TELEGRAM_TOKEN TELEGRAM_API_ROOT TELEGRAM_WEBHOOK_URL KEY_FILE';
    for (const name of contract.split(' ')) expect(settingNames).toContain(`NECKLINE_${name}`);
    expect(settingNames).toContain('DATABASE_URL');
  });
});

describe('settings of a file and of the environment together', () => {
  const both = (environment: Record<string, string>, ...lines: string[]) =>
    readSettings(environment, file('line.env', lines.join('\n')));
  const faultsOf = (environment: Record<string, string>, ...lines: string[]): readonly string[] => {
    const read = both(environment, ...lines);
    return read.ok ? [] : read.faults.map((one) => one.replace(`${folder}/`, ''));
  };

  it('are taken from both, the same value in both and an empty one in either being none', () => {
    const read = both(
      { NECKLINE_SMS_NUMBER: '1234', NECKLINE_LOG: '', NECKLINE_HTTP_PORT: '8100' },
      'NECKLINE_LOG=warn',
      'NECKLINE_HTTP_PORT=8100',
      'NECKLINE_SMS_NUMBER=',
      'NODE_EXTRA_CA_CERTS=/etc/ssl/own.pem',
    );
    expect(read).toMatchObject({
      ok: true,
      settings: { NECKLINE_SMS_NUMBER: '1234', NECKLINE_LOG: 'warn', NECKLINE_HTTP_PORT: 8100 },
    });
  });

  it('what they say differently is refused by name, without either value', () => {
    const said = faultsOf({ NECKLINE_SMS_NUMBER: '1234', NECKLINE_LOG: 'info' }, '', 'NECKLINE_SMS_NUMBER=5678');
    expect(said).toEqual([expect.stringMatching(/^line\.env:2: NECKLINE_SMS_NUMBER: expected .*keep one of them$/)]);
    expect(said.join()).not.toMatch(/1234|5678/);
  });

  it('a secret may not stand in one and its file be named by the other', () => {
    const named = `NECKLINE_SMS_SECRET_FILE=${file('secret', 'long-enough-as-well')}`;
    expect(faultsOf({ NECKLINE_SMS_SECRET: 'long-enough-by-far' }, named)).toEqual([
      expect.stringMatching(/^NECKLINE_SMS_SECRET: given twice/),
    ]);
  });

  it('every fault of both is said at once, those of the file with their lines', () => {
    expect(
      faultsOf(
        { NECKLINE_HTTP_PORT: 'x' },
        'NECKLINE_SMS_NUMBER=1234 # what phones write to',
        'NECKLINE_DATA=./data',
        'NECKLNE_LOG=warn',
        'NECKLINE_SMS_GATEWAY=pigeon',
      ).map((one) => one.replace(/: expected.*/, '')),
    ).toEqual([
      'line.env:1: NECKLINE_SMS_NUMBER',
      'line.env:2: NECKLINE_DATA',
      'line.env:3: NECKLNE_LOG',
      'NECKLINE_HTTP_PORT',
      'NECKLINE_SMS_GATEWAY',
    ]);
  });

  it('a file that is not there is said as such', () => {
    expect(readSettings({}, join(folder, 'none.env'))).toMatchObject({
      ok: false,
      faults: [`${join(folder, 'none.env')}: there is no such settings file`],
    });
  });

  it('the bench of a programme of one’s own has its data apart; a real line has them where it is told', () => {
    const own = { NECKLINE_PROGRAMME: '/etc/neckline/programme.yaml' };
    expect(settings(own).NECKLINE_DATA).toBe('./data/own');
    expect(settings({ ...own, NECKLINE_DATA: '/var/lib/neckline' }).NECKLINE_DATA).toBe('/var/lib/neckline');
    expect(settings({ ...own, NECKLINE_SMS_GATEWAY: 'kannel' }).NECKLINE_DATA).toBe('./data');
  });

  it('every setting is read by something', () => {
    const sources = readdirSync(new URL('../src', import.meta.url), { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.ts') && name !== 'config.ts')
      .map((name) => readFileSync(new URL(`../src/${name}`, import.meta.url), 'utf8'))
      .join('\n');
    const unread = settingNames.filter(
      (name) => !name.endsWith('_SECRET_FILE') && !sources.includes(name.replace(/(PASSWORD|TOKEN|URL)_FILE$/, '$1')),
    );
    expect(unread).toEqual([]);
  });
});
