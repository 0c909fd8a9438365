import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { runAudit } from '../../src/cli/audit.ts';
import { runRoster } from '../../src/cli/roster.ts';
import { readRoster } from '../../src/cli/roster-file.ts';
import { membersOf } from '../../src/conversation/people.ts';
import { ownProgramme } from '../support/own-programme.ts';
import { shipped } from '../support/shipped.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-roster-'));
  vi.stubEnv('NECKLINE_DATA', join(folder, 'data'));
  vi.stubEnv('NECKLINE_PROGRAMME', ownProgramme(folder));
});
afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

type Command = typeof runRoster;

async function run(command: Command, ...args: string[]) {
  const written = { out: '', err: '' };
  const exit = await command(args, {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  return { exit, ...written };
}

function roster(...lines: string[]): string {
  const file = join(folder, 'roster.csv');
  writeFileSync(file, `name,roles,channel,address,site,locale\n${lines.join('\n')}\n`);
  return file;
}

describe('neckline roster import', () => {
  it('names the key file, not the database, where no key file can be made', async () => {
    writeFileSync(join(folder, 'plain'), 'no folder');
    vi.stubEnv('NECKLINE_KEY_FILE', join(folder, 'plain', 'line.key'));
    const { exit, err } = await run(runRoster, 'import', roster('Ada Lumo,worker,bench,bench:worker,oruma,en'));
    expect(err).toContain(`${join(folder, 'plain', 'line.key')}: a part of its path is a file`);
    expect(err).not.toContain('neckline.db: cannot');
    expect(exit).toBe(2);
  });

  it('takes the good lines, and reports each bad one by its number', async () => {
    const file = roster(
      'Ada Lumo,worker,bench,bench:ada,oruma,en',
      'Beno Sarr,pilot,bench,bench:beno,oruma,en',
      '"Rune, Sela",coordinator+doctor,sms,+0005550100,oruma,en',
      'Tano,doctor,sms,0005550101,oruma,en',
      'Imre,doctor,bench,bench:imre,atlantis,en',
      'Ada Again,worker,bench,bench:ada,oruma,en',
    );
    const { exit, out, err } = await run(runRoster, 'import', file);
    expect([exit, out]).toEqual([1, '2 new, 0 changed, 0 the same, 4 left out\n']);
    const numbers = [...err.matchAll(/roster\.csv:(\d+): expected \S/g)].map((found) => Number(found[1]));
    expect(numbers).toEqual([3, 5, 6, 7]);
  });

  it('changes known people instead of adding them again', async () => {
    const file = roster('Ada Lumo,worker,bench,bench:ada,oruma,en');
    expect((await run(runRoster, 'import', file)).exit).toBe(0);
    const again = roster('Ada Lumo Sarr,worker+coordinator,bench,bench:ada,kesu,en');
    expect(await run(runRoster, 'import', again, '--change')).toMatchObject({
      exit: 0,
      out: 'line 2 changed: another owner, roles worker to worker+coordinator, site oruma to kesu\n0 new, 1 changed, 0 the same, 0 left out\n',
    });
  });

  it('says of each changed line what it changes, and nothing of those that are the same', async () => {
    const people = (ada: string, language: string) => [
      `${ada},worker,sms,+000555010001,oruma,${language}`,
      'Dr Tano,doctor,sms,+000555010002,oruma,en',
    ];
    await run(runRoster, 'import', roster(...people('ada lumo', 'en')));
    const { out } = await run(
      runRoster,
      'import',
      roster(...people('Ada Lumo', 'en-GB'), 'Dr Imre,doctor,sms,+000555010003,kesu,'),
    );
    expect(out).toBe(
      'line 2 changed: how the name is written, language en to en-GB\n1 new, 1 changed, 1 the same, 0 left out\n',
    );
  });

  it('says how a number is written, what stands in the first line, and that everybody has a place', async () => {
    const { err } = await run(
      runRoster,
      'import',
      roster(
        'Ada Lumo,worker,sms,0712000001,oruma,en',
        'Dr Tano,doctor,sms,+000555010002,,en',
        'Dr Imre,doctor,sms,+000555010003,atlantis,en',
      ),
    );
    expect(err).toMatch(/csv:2: expected a phone number with the country's code, like \+000555010001\n/);
    expect(err).toMatch(
      /csv:3: expected a site or laboratory: oruma, .* Doctors and coordinators have one too: the clinic/,
    );
    expect(err).toMatch(/csv:4: expected a site or laboratory: oruma, kesu, velin, mora\n/);
    const file = join(folder, 'other.csv');
    writeFileSync(file, 'Name,Phone\nAda Lumo,0712000001\n');
    expect((await run(runRoster, 'import', file)).err).toMatch(
      /other\.csv:1: expected the header name,roles,channel,address,site,locale .*with the country's code, like \+000555010001\n$/,
    );
  });

  it('takes a phone that a site shares with its people, never one of a doctor or a coordinator', () => {
    const lines = [
      'Ada Lumo/Beno Sarr,worker+shared,bench,bench:a,oruma,en',
      'Lio Marek/Sia Tor,lab+shared,bench,bench:b,velin,en',
      'Dr A/Dr B,doctor+shared,bench,bench:c,oruma,en',
      'Sela/Mila,coordinator+worker+shared,bench,bench:d,oruma,en',
      'Ada alone,worker+shared,bench,bench:e,oruma,en',
      'Nobody,shared,bench,bench:f,oruma,en',
      'A/B/C/D/E/F/G/H/I,worker+shared,bench,bench:g,oruma,en',
    ];
    const text = `name,roles,channel,address,site,locale\n${lines.join('\n')}\n`;
    const { people, faults } = readRoster(text, shipped, [], true);
    expect(people.map((one) => [one.roles.join(), one.shared, membersOf(one)])).toEqual([
      ['worker', true, ['Ada Lumo', 'Beno Sarr']],
      ['lab', true, ['Lio Marek', 'Sia Tor']],
    ]);
    expect(faults.map((one) => one.line)).toEqual([4, 5, 6, 7, 8]);
  });

  it('lets no phone in again that was taken off the line', () => {
    const text = 'name,roles,channel,address,site,locale\nAda Lumo,worker,bench,bench:ada,oruma,en\n';
    const [ada] = readRoster(text, shipped, [], true).people;
    const lost = readRoster(text, shipped, [{ ...ada!, state: 'suspended' }], true);
    expect(lost.people).toEqual([]);
    expect(lost.faults).toEqual([
      { line: 2, expected: 'a phone that was not taken off the line: RESTORE brings it back' },
    ]);
  });

  it('makes no second person of somebody with a new phone: the line is reported, and changes nothing', async () => {
    await run(runRoster, 'import', roster('Ada Lumo,worker,sms,+000555010001,oruma,en'));
    const file = roster(
      'Ada Lumo,worker,sms,+000555010001,oruma,en',
      'ada  lumo,worker+coordinator,sms,+000555010077,oruma,en',
      'Ada Lumo,worker,sms,+000555010078,kesu,en',
      'Ada Lumo,lab,sms,+000555010079,oruma,en',
      'Beno Sarr,worker,sms,+000555010080,oruma,en',
      'Beno Sarr,worker,sms,+000555010081,oruma,en',
    );
    const { exit, out, err } = await run(runRoster, 'import', file);
    expect([exit, out]).toEqual([1, '3 new, 0 changed, 1 the same, 2 left out\n']);
    const [changed, twice] = err.trim().split('\n').slice(1);
    expect(changed).toMatch(
      /roster\.csv:3: expected the address that Ada Lumo has now\. A new phone: CHANGE Ada Lumo and/,
    );
    expect(twice).toMatch(/roster\.csv:7: expected a person whom no earlier line has/);
  });

  it.each([
    ['semicolons', ';'],
    ['tabs', '\t'],
  ])('reads a list that a spreadsheet wrote with %s, its mark in front and its line ends', async (_which, between) => {
    const file = join(folder, 'roster.csv');
    const lines = [
      'name,roles,channel,address,site,locale',
      'Ada Lumo,worker,bench,bench:ada,oruma,en',
      '"Rune, Sela",coordinator,sms,+000555010004,oruma,en',
      'Beno Sarr,worker,bench,bench:beno,atlantis,en',
    ].map((line) => line.replaceAll(/,(?! )/g, between));
    writeFileSync(file, `\uFEFF${lines.join('\r\n')}\r\n`);
    const { out, err } = await run(runRoster, 'import', file);
    expect(err).toMatch(/roster\.csv:4: expected a site or laboratory/);
    expect(out).toMatch(/^2 new, 0 changed, 0 the same, 1 left out/);
  });

  it('leaves out a number that the line may not write to, and says its line', async () => {
    vi.stubEnv('NECKLINE_SMS_PREFIXES', '+99970, +998');
    const file = roster(
      'Ada Lumo,worker,sms,+999700000001,oruma,en',
      'Beno Sarr,worker,sms,+888700000001,oruma,en',
      'Imre Tano,doctor,sms,+999600000001,oruma,en',
      'Sela Rune,coordinator,telegram,4815162342,oruma,en',
    );
    const { exit, out, err } = await run(runRoster, 'import', file);
    expect([exit, out]).toEqual([1, '2 new, 0 changed, 0 the same, 2 left out\n']);
    const wanted = 'a number that begins with one of NECKLINE_SMS_PREFIXES (+99970, +998)';
    expect(err.trim().split('\n').slice(1)).toEqual([`${file}:3: expected ${wanted}`, `${file}:4: expected ${wanted}`]);
  });

  it('refuses prefixes that are none before it makes a database', async () => {
    vi.stubEnv('NECKLINE_SMS_PREFIXES', 'Kenya');
    expect(await run(runRoster, 'import', roster())).toMatchObject({ exit: 2 });
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });

  it.each([['Name,Roles'], ['']])('takes nothing under the header %j', async (header) => {
    const file = join(folder, 'roster.csv');
    writeFileSync(file, `${header}\nAda Lumo,worker,bench,bench:ada,oruma,en\n`);
    const { exit, out } = await run(runRoster, 'import', file);
    expect([exit, out]).toEqual([1, '0 new, 0 changed, 0 the same, 1 left out\n']);
  });

  it('refuses a bad setting before it makes a database', async () => {
    vi.stubEnv('NECKLINE_LOG', 'loud');
    const { exit, err } = await run(runRoster, 'import', roster());
    expect(exit).toBe(2);
    expect(err).toMatch(/^NECKLINE_LOG: [^\n]+\n$/);
    expect(existsSync(join(folder, 'data'))).toBe(false);
  });
});

describe('neckline audit verify', () => {
  it('says that every chain holds on a sound database', async () => {
    await run(runRoster, 'import', roster('Ada Lumo,worker,bench,bench:ada,oruma,en'));
    const { exit, out } = await run(runAudit, 'verify');
    expect(exit).toBe(0);
    expect(out).toMatch(/\nevery chain holds\n$/);
  });
});
