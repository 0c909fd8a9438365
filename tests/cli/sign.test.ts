import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { runReady } from '../../src/cli/ready.ts';
import { runRoster } from '../../src/cli/roster.ts';
import { runSign } from '../../src/cli/sign.ts';

const who = 'Dr Tano, physician of the district';
const shipped = readFileSync(new URL('../../flows/programme.yaml', import.meta.url), 'utf8');

let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-sign-'));
  vi.stubEnv('NECKLINE_DATA', join(folder, 'data'));
  vi.stubEnv('NECKLINE_PROGRAMME', join(folder, 'programme.yaml'));
  writeFileSync(join(folder, 'programme.yaml'), shipped);
  writeFileSync(
    join(folder, 'roster.csv'),
    'name,roles,channel,address,site,locale\nAda Lumo,worker,bench,bench:ada,oruma,en\n',
  );
  await run(runRoster, 'import', join(folder, 'roster.csv'));
});
afterAll(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

async function run(command: typeof runSign, ...args: readonly string[]) {
  const written = { out: '', err: '' };
  const exit = await command(args, {
    stdout: { write: (text: string) => (written.out += text) },
    stderr: { write: (text: string) => (written.err += text) },
  });
  return { exit, ...written };
}

interface Shown {
  readonly id: string;
  readonly signed: { readonly who: string } | null;
  readonly lapsed: { readonly who: string } | null;
}

async function shown(): Promise<readonly Shown[]> {
  return JSON.parse((await run(runSign, '--list', '--json')).out) as Shown[];
}

/* One database for all: what is signed stays signed, and the tests stand in that order. */
describe('neckline ready', () => {
  it('says what is missing and how to mend it, by what it holds up, and ends with 1', async () => {
    const { exit, out, err } = await run(runReady);
    expect([exit, err.split('\n').length]).toEqual([1, 2]);
    expect(out).toMatch(/^Without this the line does not start:\n- [^\n]+\.\n {2}[^\n]+\.\n/);
    expect(out).toMatch(/as a trial only \(start --trial\):\n(- .*\n {2}.*\n)*- No doctor is on the line/);
    expect(out).toMatch(
      /no patient may depend on the line:\n(- .*\n {2}.*\n)*- No clinician of the programme has signed \d+/,
    );
    expect(out).toMatch(/\n\nNot ready: \d+ things are missing\.\n$/);
    const json = JSON.parse((await run(runReady, '--json')).out) as { ready: boolean; missing: readonly object[] };
    expect(json.ready).toBe(false);
    expect(json.missing.length).toBe(out.match(/^- /gm)?.length);
    expect(Object.keys(json.missing[0]!)).toEqual(['id', 'what', 'mend', 'holdsUp']);
  });
});

describe('neckline sign', () => {
  it.each([
    ['an id that nobody has', 1, ['H01', 'H00', '--who', who], /^H00: there is nothing of this id/m],
    ['a name without a role', 2, ['H01', '--who', 'Dr Tano'], /^--who: expected a name and a role/m],
    ['nobody', 2, ['--all'], /^neckline sign/m],
    ['ids beside --all', 2, ['H01', '--all', '--who', who], /^neckline sign/m],
  ])('signs nothing with %s', async (_what, exit, args, said) => {
    const ended = await run(runSign, ...args);
    expect([ended.exit, ended.out]).toEqual([exit, '']);
    expect(ended.err).toMatch(said);
    expect((await shown()).filter(({ signed }) => signed !== null)).toEqual([]);
  });

  it('keeps who signed what, and a changed value asks for a new signature', async () => {
    expect((await run(runSign)).out).toMatch(/^limits\.passes: Attempts before the doctor is asked: 3\. UNSIGNED$/m);
    const signed = await run(runSign, 'limits.passes', 'H01', '--who', who);
    expect([signed.exit, signed.out]).toEqual([
      0,
      `signed: limits.passes: Attempts before the doctor is asked: 3\nsigned: H01: A danger sign is missed\n2 signed by ${who}\n`,
    ]);
    expect((await run(runSign)).out).toMatch(
      /^H01: A danger sign is missed\. signed by Dr Tano, physician of the district, \d{4}-/m,
    );
    writeFileSync(join(folder, 'programme.yaml'), shipped.replace('passes: 3', 'passes: 4'));
    const list = await run(runSign);
    expect(list.out).toMatch(/^limits\.passes: .*: 4\. CHANGED since Dr Tano, physician of the district signed it/m);
    expect(list.out).toMatch(/\n1 of \d+ are signed, 1 were changed since, \d+ were never signed\.\n$/);
  });

  it('--all signs what is open and leaves what is signed', async () => {
    expect((await run(runSign, '--all', '--who', 'Dr Imre, physician')).out).toMatch(
      /^\d+ signed by Dr Imre, physician, 1 were signed before\n/m,
    );
    const all = await shown();
    expect(all.every(({ signed }) => signed !== null)).toBe(true);
    expect(all.find(({ id }) => id === 'H01')?.signed?.who).toBe(who);
    const ready = JSON.parse((await run(runReady, '--json')).out) as { missing: readonly { id: string }[] };
    expect(ready.missing.map(({ id }) => id)).not.toEqual(expect.arrayContaining(['unsigned']));
    expect(ready.missing.map(({ id }) => id)).not.toEqual(expect.arrayContaining(['languages']));
  });

  it('shows one in full, as it is agreed to', async () => {
    const { out } = await run(runSign, 'H01');
    expect(out).toMatch(
      /^H01: A danger sign is missed\n {2}Cause: .* Control: .* Remains: .*\n {2}signed by Dr Tano, .*\n$/,
    );
  });
});
