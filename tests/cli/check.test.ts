import { describe, expect, it } from 'vitest';
import { type CheckOptions, runCheck } from '../../src/cli/check.ts';
import { inSwahili, packageWith, spoilt, watchFlow, watchRegistry, watchTexts } from '../content/package-fixture.ts';

async function check(args: readonly string[], options: CheckOptions = {}) {
  const said = { out: '', err: '' };
  const stdout = { write: (text: string) => (said.out += text) };
  const stderr = { write: (text: string) => (said.err += text) };
  const code = await runCheck(args, { stdout, stderr }, { registry: watchRegistry, root: packageWith(), ...options });
  return { code, ...said };
}

describe('check', () => {
  it('says ok and what the texts of each language cost', async () => {
    const { code, out, err } = await check([], { root: packageWith(inSwahili(watchTexts)) });
    expect([code, err]).toEqual([0, '']);
    const lines = out.split('\n');
    expect(lines[0]).toBe('ok: 1 flows, 2 languages');
    expect(lines[2]).toBe('language  texts of  texts  segments  longest  octets  written in');
    expect(lines.join('\n')).toMatch(/^en {8}watch +2 +2 +1 +\d+ {2}GSM-7$/m);
    expect(lines.join('\n')).toMatch(/^sw {8}watch +2 +2 +1 +\d+ {2}GSM-7$/m);
  });

  it('prints one problem a line and ends with 1', async () => {
    const root = packageWith({ 'flows/watch.yaml': spoilt(watchFlow, 'initial: press', 'initial: pres') });
    expect(await check([], { root })).toEqual({
      code: 1,
      out: 'flows/watch.yaml:2  initial  there is no state pres  did you mean press?\n1 problem\n',
      err: '',
    });
  });

  it('prints problems as JSON when asked to', async () => {
    const root = packageWith({ 'flows/watch.yaml': spoilt(watchFlow, 'initial: press', 'initial: pres') });
    const { code, out } = await check(['--json'], { root });
    expect(code).toBe(1);
    expect(JSON.parse(out)).toEqual({
      ok: false,
      problems: [
        {
          ...{ file: 'flows/watch.yaml', line: 2, path: 'initial' },
          ...{ what: 'there is no state pres', todo: 'did you mean press?' },
        },
      ],
    });
  });

  it('prints every field with its options and digits', async () => {
    const { code, out } = await check(['--fields', '--json']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toEqual([
      {
        ...{ flow: 'watch', state: 'neck', field: 'neck', kind: 'choice', each: false },
        options: [
          { id: 'well', reply: '1' },
          { id: 'changed', reply: '2' },
          { id: 'unknown', reply: '9' },
        ],
      },
    ]);
    expect((await check(['--fields'])).out).toBe('watch.neck  neck  choice  1 well, 2 changed, 9 unknown\n');
  });

  it('never mixes problems into the fields', async () => {
    const root = packageWith({ 'flows/watch.yaml': 'flow: watch\n' });
    const { code, out, err } = await check(['--fields', '--json'], { root });
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('flows/watch.yaml:1  states');
  });

  it.each([['--feilds'], ['watch']])('refuses %s with 2', async (arg) => {
    const { code, out, err } = await check([arg]);
    expect([code, out]).toEqual([2, '']);
    expect(err).toBe(`check takes no ${arg}; see --help\n`);
  });

  it('explains itself', async () => {
    const { code, out } = await check(['--help']);
    expect(code).toBe(0);
    expect(out).toContain('file:line  path  what is wrong  what to do');
  });
});
