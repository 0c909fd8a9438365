import { describe, expect, it } from 'vitest';
import { runDraw } from '../../src/cli/draw.ts';
import { packageWith } from '../content/package-fixture.ts';

const other = 'flow: other\ninitial: a\nstates:\n  a: { transitions: { next: { flow: watch } } }\n';

function draw(args: readonly string[], files: Readonly<Record<string, string>> = {}) {
  const said = { out: '', err: '' };
  const stdout = { write: (text: string) => (said.out += text) };
  const stderr = { write: (text: string) => (said.err += text) };
  const code = runDraw(args, { stdout, stderr }, packageWith({ 'flows/other.yaml': other, ...files }));
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
