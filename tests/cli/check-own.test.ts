import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { runCheck } from '../../src/cli/check.ts';
import { runPlay } from '../../src/cli/play.ts';
import { shippedNames } from '../../src/content/check-shipped.ts';
import { registry } from '../../src/conversation/matters.ts';
import { wordRows } from '../../src/conversation/roles.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { playFile } from '../support/play.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-own-'));
});
afterEach(() => vi.unstubAllEnvs());
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function written(name: string, ...lines: string[]): string {
  const file = join(folder, name);
  writeFileSync(file, lines.join('\n'));
  return file;
}

async function check(...args: string[]) {
  const said = { out: '', err: '' };
  const stdout = { write: (text: string) => (said.out += text) };
  const stderr = { write: (text: string) => (said.err += text) };
  const exit = await runCheck(args, { stdout, stderr }, { registry: { ...registry, shipped: shippedNames }, words });
  return { exit, ...said };
}

const words = wordRows(registry).map(({ word }) => word);
const header = 'name,roles,channel,address,site,locale';
const faulty = {
  'lab: mora,': 'lab: morra,',
  'alcohol: coat ': 'alcohol: coatt ',
  'spray-dry: 10m': 'spray-dri: 10m',
  'watch-short: 30m': 'watch-short: 90s',
};

describe('check with a programme and people of one’s own', () => {
  it('says every fault of both files at once, each with its file and line', async () => {
    const programme = ownProgramme(folder, faulty);
    const people = written(
      'people.csv',
      header,
      'Ada Lumo,worker,sms,0712000001,oruma,en',
      'Dr Tano,doctor,sms,+000555010002,,en',
      'Beno Sarr,pilot,sms,+000555010003,oruma,en',
      'Lio Marek,lab,sms,+888555010004,velin,sw',
    );
    vi.stubEnv('NECKLINE_SMS_PREFIXES', '+000');
    const { exit, out } = await check('--programme', programme, '--roster', people);
    expect(exit).toBe(1);
    const lines = out.trimEnd().split('\n');
    expect(lines.at(-1)).toBe('9 problems');
    for (const line of lines.slice(0, -1)) expect(line).toMatch(/(people\.csv|programme\.yaml):\d+ {2}/);
    for (const path of [
      'sites.kesu.lab',
      'laboratories.mora.alcohol',
      'durations.spray-dry',
      'durations.spray-dri',
      'durations.watch-short',
    ]) {
      expect(out).toContain(`  ${path}  `);
    }
    expect(out).toMatch(/people\.csv:2 .*expected a phone number with the country's code, like \+000555010001/);
    expect(out).toMatch(/people\.csv:3 .*Doctors and coordinators have one too/);
    expect(out).toMatch(/people\.csv:4 .*roles of/);
    expect(out).toMatch(/people\.csv:5 .*NECKLINE_SMS_PREFIXES/);
  });

  it('finds both without a fault, and says who is on the list and who is not', async () => {
    const programme = ownProgramme(folder, { 'name: Tamboro thyroid line': 'name: Kesu thyroid line' });
    const people = written(
      'people.csv',
      header,
      'Ada Lumo,worker,sms,+000555010001,oruma,en',
      'Dr Tano,doctor,sms,+000555010002,kesu,en',
    );
    const { exit, out } = await check('--programme', programme, '--roster', people);
    expect(exit).toBe(0);
    expect(out).toContain(`\nprogramme Kesu thyroid line (tamboro) of ${programme}\n`);
    expect(out).toContain(
      `\nroster ${people}: 2 people, 1 worker, 1 doctor, 0 lab, 0 coordinator; nobody yet as coordinator, laboratory of oruma, laboratory of kesu\n`,
    );
  });

  it('takes the programme of the settings, whose own faults are among the others', async () => {
    vi.stubEnv('NECKLINE_PROGRAMME', ownProgramme(folder, faulty));
    vi.stubEnv('NECKLINE_LOG', 'loud');
    const { exit, out } = await check('--json');
    expect(exit).toBe(1);
    const { problems } = JSON.parse(out) as { problems: { file: string; path: string }[] };
    expect(problems.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['NECKLINE_LOG', 'sites.kesu.lab', 'durations.spray-dri']),
    );
    expect(problems).toHaveLength(6);
  });

  it('says of a file that is not there that it is not', async () => {
    const none = join(folder, 'none');
    const { exit, out } = await check('--programme', `${none}.yaml`, '--roster', `${none}.csv`);
    expect(exit).toBe(1);
    expect(out.trimEnd().split('\n')).toEqual([
      expect.stringMatching(/none\.csv:1 .*cannot be read/),
      expect.stringMatching(/none\.yaml:1 .*the file is missing/),
      '2 problems',
    ]);
  });
});

describe('play with a programme of one’s own', () => {
  const script = () =>
    written(
      'own.play',
      'phone w +000555010001 role=worker',
      'phone d +000555010002 role=doctor',
      'w> SOS',
      'd< BESA CLINIC',
      'w< +000555010090',
    );

  it('says its names and numbers', async () => {
    const programme = ownProgramme(folder, { 'name: ORUMA CLINIC': 'name: BESA CLINIC' });
    const { code, printed } = await playFile(script(), ['--programme', programme]);
    expect(code, printed).toBe(0);
    expect(printed).not.toContain('ORUMA');
  });

  it('refuses one with faults, all of them said', async () => {
    let err = '';
    const stderr = { write: (text: string) => (err += text) };
    const io = { stdin: process.stdin, stdout: { write: () => true }, stderr };
    expect(await runPlay([script(), '--programme', ownProgramme(folder, faulty)], io)).toBe(2);
    expect(err.trimEnd().split('\n')).toHaveLength(5);
  });
});
