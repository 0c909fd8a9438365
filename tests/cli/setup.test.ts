import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { readRoster } from '../../src/cli/roster-file.ts';
import { runSetup } from '../../src/cli/setup.ts';
import { readSettings } from '../../src/config.ts';
import { checkContent } from '../../src/content/check-content.ts';
import { shippedNames } from '../../src/content/check-shipped.ts';
import { loadContent } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { exampleText } from '../setup/answers-fixture.ts';
import { shipped } from '../support/shipped.ts';

let root: string;
let folder: string;
beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'neckline-setup-'));
  folder = join(root, 'neckline');
});
afterEach(() => rmSync(root, { recursive: true, force: true }));

/** Without the cases of a month nothing is played to reckon its cost. */
const quick = exampleText
  .replace('casesAMonth: 20', '')
  .replace('tokenFile: /etc/neckline/telegram-token', 'webhookUrl: https://line.example.org/telegram/x')
  .replace('backupKey: /etc/neckline/backup.public', '');

function answersFile(text: string): string {
  const file = join(root, 'answers.yaml');
  writeFileSync(file, text);
  return file;
}

async function setup(typed: readonly string[], ...args: string[]) {
  const written = { out: '', err: '' };
  const exit = await runSetup(args, {
    content: shipped,
    stdin: Readable.from(typed.map((line) => `${line}\n`)),
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  return { exit, ...written };
}

const fromFile = (text: string, ...more: string[]) => setup([], '--to', folder, '--from', answersFile(text), ...more);
const inFolder = (name: string): string => readFileSync(join(folder, name), 'utf8');
const allOf = (path: string) =>
  Object.fromEntries(readdirSync(path).map((name) => [name, readFileSync(join(path, name), 'utf8')]));

describe('neckline setup from a file', () => {
  it('writes a programme, a roster and settings in which the line itself finds no fault', async () => {
    const { exit, err, out } = await fromFile(exampleText.replace('/etc/neckline/telegram-token', join(root, 'token')));
    expect([exit, err]).toEqual([0, '']);

    writeFileSync(join(root, 'token'), '1234567:not-a-token');
    const read = readSettings({}, join(folder, 'neckline.env'));
    if (!read.ok) throw new Error(read.faults.join('\n'));
    expect(read.settings).toMatchObject({ NECKLINE_SMS_GATEWAY: 'kannel', NECKLINE_SMS_NUMBER: '1234' });
    expect(read.settings.NECKLINE_SMS_SECRET).toMatch(/^[0-9a-f]{48}$/);
    expect(read.settings.NECKLINE_SMS_PASSWORD).toMatch(/^[0-9a-f]{48}$/);

    const content = loadContent(undefined, read.settings.NECKLINE_PROGRAMME);
    expect(checkContent(content, { ...registry, shipped: shippedNames })).toEqual([]);
    expect(content.programme.sites.map((one) => one.name)).toEqual(['ORUMA CLINIC', 'KESU CLINIC']);

    const { people, faults } = readRoster(inFolder('roster.csv'), content, [], false, { prefixes: ['+000'] });
    expect(faults).toEqual([]);
    expect(people.map((one) => [one.name, one.rank, one.siteId, one.shared])).toEqual([
      ['Ada Lumo', 0, 'oruma', false],
      ['Beno Sarr/Mira Dol', 0, 'kesu', true],
      ['Dr Tano', 1, 'oruma', false],
      ['Dr Imre', 2, 'oruma', false],
      ['Lio Marek', 0, 'velin', false],
      ['Sia Tor', 0, 'mora', false],
      ['Sela Rune', 0, 'oruma', false],
    ]);

    for (const name of readdirSync(folder))
      expect([name, statSync(join(folder, name)).mode & 0o777]).toEqual([name, 0o600]);
    expect(out).not.toContain(read.settings.NECKLINE_SMS_SECRET);

    // What a month costs, and the credit to begin with.
    const [, sent = '', received = ''] = /month with 20 cases.*: (\d+) sent, (\d+) received/.exec(out) ?? [];
    const [, credit = ''] = /a coordinator text: CREDIT (\d+)/.exec(out) ?? [];
    expect(Number(sent)).toBeGreaterThan(20 * 50);
    expect(Number(received)).toBeGreaterThan(20 * 20);
    expect(Number(credit)).toBeGreaterThanOrEqual(Number(sent) * 1.25);
    expect(out).toContain(`neckline roster import ${folder}/roster.csv --env ${folder}/neckline.env`);
    expect(out).toContain('neckline invite "Dr Tano" --env');
    const { meta } = content.sources.locales.find(({ tag }) => tag === 'en')!;
    const reader = meta?.reviewedBy ? `read by ${meta.reviewedBy}` : 'read by no nurse yet';
    expect(out).toContain(`Language en: ${reader}`);
  });

  it('says all faults of all files at once, each with its line of the answers, and writes nothing', async () => {
    const spoilt = quick
      .replace('zone: Africa/Nairobi\n  # Which rule', 'zone: Tamboro\n  # Which rule')
      .replace('hospital: Kesu Mission Hospital', 'hospital: The Hospital of the Kesu Mission beyond the river')
      .replace('laboratory: mora\n    guidance', 'laboratory: nowhere\n    guidance')
      .replace('slides: 4\n    # What', 'slides: 40\n    # What')
      .replace('"sms:+000555010001"', '"sms:0555010001"')
      .replace('guidance: true', 'guidance: maybe')
      .replace('stain: both', 'stain: pink\n    colour: pink')
      .replace('name: Dr Imre', 'name: SOS')
      .replace('"sms:+000555010006"', '"sms:+888555010006"')
      .replace('prefixes: ["+000"]', 'prefixes: ["+000"]\n  country: Tamboro')
      .replace('languages: [en]\n', 'languages: [en, tb]\n');
    const lineOf = (piece: string): number => spoilt.slice(0, spoilt.indexOf(piece)).split('\n').length;
    const { exit, err, out } = await fromFile(spoilt);
    expect([exit, out]).toEqual([1, '']);
    const expected = [
      ['zone: Tamboro', 'programme.zone', 'is not a time zone'],
      ['hospital: The Hospital', 'clinics.1.hospital', 'at most 36 letters'],
      ['laboratory: nowhere', 'clinics.1.laboratory', 'there is no laboratory nowhere  use one of: velin, mora'],
      ['slides: 40', 'laboratories.0.slides', 'from 1 to 9'],
      ['guidance: maybe', 'clinics.0.guidance', 'should be true or false'],
      ['stain: pink', 'laboratories.1.stain', 'use one of: wet, dried, both'],
      ['colour: pink', 'laboratories.1.colour', 'unknown key colour'],
      ['languages: [en, tb]', 'programme.languages.1', 'does not speak tb'],
      ['country: Tamboro', 'sms.country', 'expected a code'],
      ['addresses: ["sms:0555010001"]', 'people.0.addresses.0', 'the number with its country'],
      ['- name: SOS', 'people.3', 'does not read like a word of the line'],
      ['- name: Sia Tor', 'people.5', 'one of sms.prefixes (+000)'],
    ] as const;
    const said = err.split('\n');
    for (const [piece, path, words] of expected) {
      const line = said.find((one) => one.includes(`answers.yaml:${lineOf(piece)}  ${path}  `));
      expect(line ?? err).toContain(words);
    }
    expect(err).toMatch(new RegExp(`^${expected.length} faults; nothing was written\n$`, 'm'));
    expect(existsSync(folder)).toBe(false);
  });

  it('shows what a rerun would change, line by line, and writes it with a yes only', async () => {
    await fromFile(quick);
    const before = allOf(folder);
    const again = await fromFile(quick);
    expect(again.exit).toBe(0);
    expect(again.out).toMatch(/programme\.yaml: as it is\n.*roster\.csv: as it is\n.*neckline\.env: as it is\n/);
    expect(again.out).toContain('sms-secret: kept');
    expect(allOf(folder)).toEqual(before);

    const other = quick.replace('hospital: Tamboro Hospital\n', 'hospital: Velin Hospital\n');
    const asked = await fromFile(other);
    expect(asked.exit).toBe(1);
    expect(asked.out).toMatch(
      /programme\.yaml: changes\n {2}- +\d+ {2}hospital: Tamboro Hospital .*\n {2}\+ +\d+ {2}hospital: Velin Hospital/,
    );
    expect(asked.err).toBe('setup: nothing was written; yes, or --yes, writes it\n');
    expect(allOf(folder)).toEqual(before);

    const file = answersFile(other);
    expect((await setup(['yes'], '--to', folder, '--from', file)).exit).toBe(0);
    const after = allOf(folder);
    expect(after['programme.yaml']).toContain('hospital: Velin Hospital');
    expect({ ...after, 'programme.yaml': '' }).toEqual({ ...before, 'programme.yaml': '' });
    expect((await fromFile(quick, '--yes')).exit).toBe(0);
    expect(allOf(folder)).toEqual(before);
  });

  it('brings a programme of an older version to what this one reads', async () => {
    await fromFile(quick);
    const today = inFolder('programme.yaml');
    const older = today
      .replace(/^ {2}backup-late: .*\n/m, '')
      .replace('\n# Hashes of', '\n# Agreed practices.\nagreed:\n  - dip-and-dry\n\n# Hashes of');
    writeFileSync(join(folder, 'programme.yaml'), older);
    const { exit, err, out } = await fromFile(quick, '--yes');
    expect([exit, err]).toEqual([0, '']);
    expect(out).toMatch(/- +\d+ {2}agreed:\n/);
    expect(out).toMatch(/\+ +\d+ {4}backup-late: 26h #/);
    expect(inFolder('programme.yaml').split('\n').sort()).toEqual(today.split('\n').sort());
  });

  it('lets the group of a folder that is shut to others read what is in it, as a service has to', async () => {
    mkdirSync(folder);
    chmodSync(folder, 0o750);
    await fromFile(quick);
    expect(statSync(join(folder, 'sms-secret')).mode & 0o777).toBe(0o640);
  });

  it('refuses a programme in the folder that nobody can read, and leaves it', async () => {
    mkdirSync(folder);
    writeFileSync(join(folder, 'programme.yaml'), 'id: [broken\n');
    const { exit, err } = await fromFile(quick);
    expect(exit).toBe(1);
    expect(err).toMatch(/programme\.yaml:\d+ .*or take the file away/);
    expect(readdirSync(folder)).toEqual(['programme.yaml']);
  });

  it('says what it needs when called wrongly', async () => {
    expect(await setup([])).toMatchObject({ exit: 2, err: 'setup: --to FOLDER says where the files go; see --help\n' });
    expect(await setup([], '--to', folder, '--force')).toMatchObject({ exit: 2 });
    const missing = await setup([], '--to', folder, '--from', join(root, 'none.yaml'));
    expect([missing.exit, missing.err]).toEqual([
      2,
      `${root}/none.yaml: there is no such file; deploy/setup.example.yaml is one to copy\n`,
    ]);
  });
});

/** One clinic, one laboratory, three people, one link; '' takes what is offered. */
const typed = [
  ...['Norvale thyroid line', '', 'Africa/Accra', '', '', 'Norvale Hospital', '', '+000555010000'],
  ...['Lab Sorin', '', 'Box 3, Sorin', 'both', '', 'coat', '', 'Bethesda', '', '1 2 3', '', 'no'],
  ...['HADA CLINIC', '', '', 'yes', 'yes', '', 'Hada, gate 1', '', 'no'],
  ...['Ada Lumo', 'worker', '', '+000555010001', 'yes'],
  ...['Dr Tano', 'doctor', '', '+000555010003, telegram:invite', 'yes'],
  ...['Lio Marek/Sia Tor', 'lab', '', '+000555010005', 'no'],
  ...['yes', '', '', '', '1234', '+000', '', 'yes', '', '', '', '0', 'not known'],
];

describe('neckline setup on a terminal', () => {
  it('asks one question at a time and writes what a file would have said', async () => {
    const { exit, err } = await setup(typed, '--to', folder);
    expect([exit, err]).toEqual([0, '']);
    expect(inFolder('roster.csv').split('\n')[3]).toBe('Lio Marek/Sia Tor,lab+shared,sms,+000555010005,sorin,en');
    expect(inFolder('programme.yaml')).toMatch(/hada: \{ name: HADA CLINIC, lab: sorin, .*night: "?Hada, gate 1/);

    // What it says it said makes the same files.
    const before = allOf(folder);
    const again = await setup([], '--to', folder, '--from', join(folder, 'setup.yaml'));
    expect([again.exit, again.out.match(/: as it is/g)?.length]).toEqual([0, 3]);
    expect(allOf(folder)).toEqual(before);
  });

  it('explains a question, takes no answer that does not fit, and goes back', async () => {
    const { out } = await setup(
      ['?', 'Norvale', 'nor', 'Norvale/Town', '<', '', 'Africa/Accra', 'acr-2017'],
      '--to',
      folder,
    );
    expect(out).toContain('People read this name when somebody asks what the line is.');
    expect(out).toContain('Expected a name such as Africa/Nairobi. ? explains.');
    // Back at a question, what was said there is offered.
    expect(out).toMatch(
      /lists\? \[norvale\] .*Which time zone\? .*Expected a name .*Which time zone\? .*lists\? \[nor\] /s,
    );
    expect(JSON.parse(inFolder('setup.draft.json')).said).toEqual([
      { id: 'programme.name', text: 'Norvale' },
      { id: 'programme.id', text: 'nor' },
      { id: 'programme.zone', text: 'Africa/Accra' },
      { id: 'programme.policy', text: 'acr-2017' },
    ]);
  });

  it('keeps what was said when it is interrupted, anywhere, and goes on behind it', async () => {
    for (const at of [1, typed.length - 1]) {
      rmSync(folder, { recursive: true, force: true });
      const first = await setup(typed.slice(0, at), '--to', folder);
      expect(first.exit).toBe(1);
      expect(first.err).toMatch(/stopped; the same command goes on, the answers are kept in .*setup\.draft\.json\n$/);
      expect(readdirSync(folder)).toEqual(['setup.draft.json']);
      const second = await setup(typed.slice(at), '--to', folder);
      expect([second.exit, second.err]).toEqual([0, '']);
      expect(second.out).toContain(`${at} answers are kept from last time`);
      expect(existsSync(join(folder, 'roster.csv'))).toBe(true);
    }
  });

  it('asks again, with what was said offered, where an answer turns out not to fit', async () => {
    const wrong = typed.map((line) => (line === 'Ada Lumo' ? 'SOS' : line));
    const later = typed.length - typed.indexOf('Ada Lumo') - 1;
    const mended = ['Ada Lumo', ...Array.from({ length: later }, () => '')];
    const { exit, out } = await setup([...wrong, ...mended], '--to', folder);
    expect(out).toMatch(
      /people\.0: does not fit the roster; expected a name that does not read like a word of the line/,
    );
    expect(exit).toBe(0);
    expect(inFolder('roster.csv')).toContain('Ada Lumo,worker,sms,+000555010001,hada,en\nDr Tano,doctor,');
  });

  it('offers in another round what was said in the last, and writes its changes with a yes only', async () => {
    await setup(typed, '--to', folder);
    const round = typed.map((_, index) => (typed[index] === 'Norvale Hospital' ? 'Sorin Hospital' : ''));
    const { exit, out } = await setup([...round, 'no'], '--to', folder);
    expect(out).toContain('What is the programme called? [Norvale thyroid line]');
    expect([exit, inFolder('programme.yaml').includes('Sorin Hospital')]).toEqual([1, false]);
    const again = await setup(['yes'], '--to', folder);
    expect([again.exit, inFolder('programme.yaml').includes('Sorin Hospital')]).toEqual([0, true]);
  });
});
