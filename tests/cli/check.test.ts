import { describe, expect, it } from 'vitest';
import { type CheckOptions, runCheck } from '../../src/cli/check.ts';
import type { AnswerRow } from '../../src/content/answer-table.ts';
import { registry } from '../../src/conversation/matters.ts';
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
    expect(lines[1]).toBe('en: read by a nurse: none yet');
    expect(lines[2]).toMatch(
      /^sw: read by a nurse: none yet; 7 changed, or their English, since they were compared: common\.options\.\S+, /u,
    );
    expect(lines[4]).toBe('language  texts of  texts  segments  longest  octets  written in');
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

  it('prints what every reply can mean, in each language', async () => {
    const { code, out, err } = await check(['--answers'], { root: packageWith(inSwahili(watchTexts)) });
    expect([code, err]).toEqual([0, '']);
    expect(out.split('\n')[0]).toMatch(/^language +reply +question +means +weight +words$/);
    expect(out).toMatch(/^en +1 +watch\.neck +well +acts +/m);
    expect(out).toMatch(/^en +9 +watch\.neck +unknown +adds/m);
    expect(out).toMatch(/^sw +2 +watch\.neck +changed +adds/m);
  });

  it('prints of the shipped flows what doctors are asked, and the words that are heard anywhere', async () => {
    const { out } = await check(['--answers', '--json'], {
      root: new URL('../..', import.meta.url).pathname,
      registry,
    });
    const rows = JSON.parse(out) as readonly AnswerRow[];
    const meaning = (question: string, reply: string) =>
      rows
        .filter((one) => one.locale === 'en' && one.question === question && one.reply === reply)
        .map(({ option }) => option);
    expect(meaning('new.breathing', '60')).toEqual(['none']);
    expect(meaning('sampling.report', '#1')).toEqual(['material']);
    expect(meaning('doctor.no-sample', '# 2')).toEqual(['refer']);
    expect(rows.find(({ option }) => option === 'SOS')).toMatchObject({ question: 'anywhere', reply: '' });
  });

  it('prints one list at a time', async () => {
    expect(await check(['--answers', '--fields'])).toMatchObject({ code: 2, out: '' });
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
