import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { playLines, received } from '../support/play.ts';

const worker = 'phone w +000555010001 role=worker';
const folders: string[] = [];

function database(): string {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-test-'));
  folders.push(folder);
  return join(folder, 'play.db');
}

afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});

describe('play', () => {
  it('answers each line of standard input with exactly one idle line, the last of what it caused', async () => {
    const { json } = await playLines([worker, '', '# remark', 'w> NEW', 'w< NEW PATIENT', 'nonsense']);
    const idles = json.map((one) => 'idle' in one);
    expect(idles.filter(Boolean)).toHaveLength(6);
    expect(idles.at(-1)).toBe(true);
  });

  it('prints a message with its question as the contract says', async () => {
    const { json } = await playLines([worker, 'w> NEW', 'w> AK 1982 F', 'w> 60', 'w> 70', 'w> 80']);
    const risks = json.find((one) => (one.ask as { field?: string } | null)?.field === 'risks');
    expect(risks).toMatchObject({
      at: '2030-03-04T08:00:00.000Z',
      phone: 'w',
      dir: 'out',
      segments: 1,
      encoding: 'GSM-7',
      flow: 'new',
      step: 'family',
      case: null,
      ask: { field: 'risks', item: null, kind: 'choices' },
    });
    const { options } = risks!.ask as { options: { reply: string; id: string }[] };
    expect(options).toContainEqual({ reply: '1', id: 'family-medullary' });
    expect(options).toContainEqual({ reply: '0', id: 'none' });
    expect(options).toContainEqual({ reply: '9', id: 'unknown' });
  });

  it('names the nodule of a question about one', async () => {
    const { json } = await playLines([
      worker,
      'w> NEW',
      ...['AK 1982 F', '60', '70', '80', '0', '40', '1', '5', '1', 'R 22x15x14'].map((one) => `w> ${one}`),
    ]);
    const inside = json.find((one) => (one.ask as { field?: string } | null)?.field === 'composition');
    expect(inside?.ask).toMatchObject({
      item: 'n1',
      kind: 'choice',
      options: expect.arrayContaining([{ reply: '4', id: 'solid' }]),
    });
  });

  it('fails an expectation with exit code 1 and names its line', async () => {
    const { code, json } = await playLines([worker, 'w> NEW', 'w< something else']);
    expect(code).toBe(1);
    expect(json).toContainEqual({ failed: expect.stringContaining('something else'), line: 3 });
  });

  it('answers a bad line with what was expected and exit code 2, and goes on', async () => {
    const { code, json } = await playLines([worker, 'dance', 'w> NEW']);
    expect(code).toBe(2);
    expect(json).toContainEqual({ error: { line: 2, expected: expect.any(String) } });
    expect(received(json, 'w')).toHaveLength(1);
  });

  it('captures words and puts them into later lines', async () => {
    const { code } = await playLines([
      worker,
      'w> NEW',
      'w< /Like this: (?<who>AK \\d+ F)/',
      'w> {who}',
      'w< AK: breathing',
    ]);
    expect(code).toBe(0);
  });

  it('gives the same transcript for three days at once and for 72 single hours', async () => {
    const begin = [worker, 'phone d +000555010002 role=doctor', 'w> NEW', 'w> AK 1982 F', 'w> 13', 'w> 1', 'w> today'];
    const once = await playLines([...begin, 'wait 3d']);
    const hours = await playLines([...begin, ...Array.from({ length: 72 }, () => 'wait 1h')]);
    const texts = (json: Record<string, unknown>[]): unknown[] => json.filter((one) => 'text' in one);
    expect(texts(once.json)).toEqual(texts(hours.json));
  });

  it('the same seed gives the same transcript, another seed another code', async () => {
    const lines = [
      worker,
      'w> NEW AK 1982 F R 22x15x14 solid hypo foci 0 TSH normal felt linear signs 0 risks 0 bleeding 0',
      ...['OK', '1', '1357H', 'ALL', '50'].map((one) => `w> ${one}`),
    ];
    const [one, same, other] = [await playLines(lines), await playLines(lines), await playLines(['seed 2', ...lines])];
    const code = (json: Record<string, unknown>[]): string =>
      /CODE (\d{4} \d{4})/.exec(received(json, 'w').join('\n'))?.[1] ?? '';
    expect(code(one.json)).toMatch(/\d{4} \d{4}/);
    expect(code(same.json)).toBe(code(one.json));
    expect(code(other.json)).not.toBe(code(one.json));
  });

  it('a repeated message changes nothing', async () => {
    const { json } = await playLines([worker, 'w> NEW', 'w> AK 1982 F', 'again w', 'again w']);
    expect(received(json, 'w')).toHaveLength(2);
  });

  it('texts wait for a phone without net and then come in order', async () => {
    const { json, code } = await playLines([
      worker,
      'w> NEW',
      'net down w',
      'w> AK 1982 F',
      'w<! breathing',
      'net up w',
      'w< AK: breathing',
    ]);
    expect(code).toBe(0);
    expect(received(json, 'w')).toHaveLength(2);
  });

  it('goes on after a crash from what was stored', async () => {
    const { code } = await playLines([worker, 'w> NEW', 'w> AK 1982 F', 'crash', 'w> 60', 'w< AK: ask the patient']);
    expect(code).toBe(0);
  });

  it('goes on in a kept database, where naming a phone again changes nothing', async () => {
    const file = database();
    await playLines([worker, 'w> NEW', 'w> AK 1982 F'], ['--json', '--db', file]);
    const { code, json } = await playLines([worker, 'w> 60', 'w< AK: ask the patient'], ['--json', '--db', file]);
    expect(code).toBe(0);
    expect(received(json, 'w')).toHaveLength(1);
  });

  it('refuses a database that a real channel used', async () => {
    const file = database();
    const store = await openStore({ url: `sqlite:${file}`, keys: openKeyRing(`${file}.key`) });
    await store.setMark('real', 'sms');
    await store.close();
    const { code, json } = await playLines([worker, 'w> NEW'], ['--json', '--db', file]);
    expect({ code, json }).toEqual({ code: 2, json: [] });
  });

  it.each([[[]], [['--what']], [['a', 'b']], [['--db']]])('refuses %j with its usage and exit code 2', async (args) => {
    const { runPlay } = await import('../../src/cli/play.ts');
    let said = '';
    const out = { write: (text: string) => (said += text) };
    expect(await runPlay(args, { stdin: process.stdin, stdout: out, stderr: out })).toBe(2);
    expect(said).toContain('neckline play');
  });
});
