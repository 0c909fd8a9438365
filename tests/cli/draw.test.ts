import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runDraw } from '../../src/cli/draw.ts';
import { inSwahili, packageWith, watchTexts } from '../content/package-fixture.ts';
import { ownProgramme } from '../support/own-programme.ts';

const other = 'flow: other\ninitial: a\nstates:\n  a: { transitions: { next: { flow: watch } } }\n';

function draw(args: readonly string[], files: Readonly<Record<string, string>> = {}) {
  const said = { out: '', err: '' };
  const stdout = { write: (text: string) => (said.out += text) };
  const stderr = { write: (text: string) => (said.err += text) };
  const code = runDraw(args, { stdout, stderr }, { root: packageWith({ 'flows/other.yaml': other, ...files }) });
  return { code, ...said };
}

describe('draw', () => {
  it('draws one flow', () => {
    expect(draw(['watch'])).toEqual({
      code: 0,
      err: '',
      out: [
        '---',
        'title: watch',
        '---',
        'stateDiagram-v2',
        '  state "press" as s_press',
        '  state "length: decides watch-length" as s_length',
        '  state "neck: asks neck" as s_neck',
        '  state "wait" as s_wait',
        '  state "again" as s_again',
        '  state "done" as s_done',
        '  [*] --> s_press',
        '  s_press --> s_length: timer.over',
        '  s_length --> s_neck: short',
        '  s_length --> s_neck: long',
        '  s_neck --> s_done: well',
        '  s_neck --> s_wait: changed, asks doctor neck-changed',
        '  s_neck --> s_again: unknown',
        '  s_neck --> s_neck: timer.silent, asks doctor neck-changed',
        '  s_wait --> s_done: neck-changed.refer',
        '  s_wait --> s_done: neck-changed.call-me',
        '  s_again --> s_press: next',
        '  s_done --> [*]',
        '  state "anywhere" as anywhere_',
        '  anywhere_ --> s_done: result.filed',
        '',
      ].join('\n'),
    });
  });

  it('draws every flow when none is named', () => {
    const { code, out } = draw([]);
    expect(code).toBe(0);
    expect(out.match(/^title: .*$/gmu)).toEqual(['title: other', 'title: watch']);
    expect(out).toContain('  s_a --> [*]: next, goes on in watch\n');
  });

  it('knows no flow of another name, and says which is near', () => {
    expect(draw(['wacht'])).toEqual({ code: 2, out: '', err: 'there is no flow wacht; did you mean watch?\n' });
  });

  it('says why a flow cannot be drawn', () => {
    const { code, out, err } = draw(['other'], { 'flows/other.yaml': 'flow: other\nstates: {}\n' });
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('flows/other.yaml:1  initial  is missing');
  });

  it.each([[['--all']], [['watch', 'other']]])('refuses %j with 2', (args) => {
    expect(draw(args).code).toBe(2);
  });

  it('explains itself', () => {
    expect(draw(['--help']).out).toContain('neckline draw [FLOW]');
  });
});

describe('draw --html', () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-draw-'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const page = () => join(folder, 'sheet.html');
  const written = () => readFileSync(page(), 'utf8');

  it('writes the review sheet of every flow into the file, and says nothing', () => {
    expect(draw(['--html', page()])).toEqual({ code: 0, out: '', err: '' });
    expect(written()).toMatch(/^<!doctype html>/u);
    expect([...written().matchAll(/<section id="flow-([^"]*)"/gu)].map((found) => found[1])).toEqual([
      'other',
      'watch',
    ]);
  });

  it('--locale has another language beside English; one that is not there is an empty column, and said', () => {
    expect(draw(['--html', page(), '--locale', 'sw'], inSwahili(watchTexts))).toEqual({ code: 0, out: '', err: '' });
    expect(written()).not.toContain('<div class="room">');
    const { code, out } = draw(['--html', page(), '--locale', 'fr-CM']);
    expect([code, out]).toEqual([0, 'there is no locales/fr-CM yet: its column is empty\n']);
    expect(written()).toContain('data-was="null" data-english="&quot;Press until {time}.&quot;"');
  });

  it('--programme shows a programme of one’s own', () => {
    const own = ownProgramme(folder, { 'watch-short: 30m': 'watch-short: 47m' });
    expect(draw(['--html', page(), '--programme', own]).code).toBe(0);
    expect(written()).toContain('in this programme: 47m');
  });

  it.each([
    [['watch', '--html', 'x.html'], 'draw takes no flow with --html; see --help\n'],
    [['--html', 'x.html', '--locale', '../en'], '../en is no language: expected one as en or fr-CM\n'],
    [['--locale', 'sw'], 'draw takes --locale and --programme with --html alone; see --help\n'],
  ])('%j is wrong use', (args, err) => {
    expect(draw(args)).toEqual({ code: 2, out: '', err });
  });

  it('says where it cannot write, and what cannot be read', () => {
    const nowhere = join(folder, 'nowhere', 'sheet.html');
    expect(draw(['--html', nowhere])).toEqual({ code: 1, out: '', err: `cannot write ${nowhere}: ENOENT\n` });
    const { code, err } = draw(['--html', page()], { 'locales/en/watch.json': '{' });
    expect([code, err]).toEqual([1, expect.stringMatching(/^locales\/en\/watch\.json:1 {2}/)]);
  });
});
