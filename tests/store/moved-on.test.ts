import { copyFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { playLines } from '../support/play.ts';

const kept = join(import.meta.dirname, 'kept');

const anew = 'w< so I ask this in a new way';

const signs = [
  ...['w< AK: breathing', 'w> 60', 'w< hoarse', 'w> 70', 'w< feel the lump', 'w> 80'],
  ...['w< family', 'w> 0', 'w< bleeding', 'w> 40'],
];
const bright = ['w< tiny white dots', 'w> 6'];
const confirmed = ['w< C12 tiny white dots', 'w> OK', 'w< needle ADVISED'];
const checked = [
  'w< what is NOT',
  'w> ALL',
  'w< does one of these stop you',
  'w> 50',
  'w< /\\bCODE (?<a>\\d{4}) (?<b>\\d{4})/',
];
const sampled = ['w> {a}{b}', 'w< only blood', 'w> 11', 'w< one digit for EACH slide'];
const slides = ['w> 6666', 'w< at what time', 'w> 9', 'w< 1 the same'];
const labelled = ['w> 1', 'w< in your book', 'w> 7', 'wait 20m', 'w< LEAVE the slides', 'w> 1', 'wait 40m'];
const watched = ['w< look now', 'w> 3', 'w< say it back', 'w> 5', 'w< /Gone\\? Send POST \\d{8}/'];

/**
 * Databases as the version before the split questions left them, one question open in each; when, and how it goes on. What
 * the worker answers first is what that question showed.
 */
const open: Readonly<Record<string, { readonly at?: string; readonly lines: readonly string[] }>> = {
  signs: { lines: ['w> 0', anew, ...signs, 'w< Where do you feel a lump?'] },
  looks: { lines: ['w> 146', anew, ...signs, 'w< looks:', 'w> 14', ...bright, ...confirmed] },
  check: { lines: ['w> YES', anew, ...signs, 'w< until now you said: tiny white dots', ...bright, ...confirmed] },
  supplies: { lines: ['w> 1357H', anew, 'w< what do you have', 'w> 1357H', ...checked, ...sampled, ...slides] },
  checks: { lines: ['w> 123456', anew, ...checked, ...sampled, ...slides, ...labelled, ...watched] },
  // Its digits still mean the same, so they count as they were shown.
  attempt: {
    lines: ['w> 12', 'w< Only blood', 'w> 21', 'w< one digit for EACH slide', ...slides, ...labelled, ...watched],
  },
  slides: { lines: ['w> 1111', anew, 'w< one digit for EACH slide', ...slides, ...labelled, ...watched] },
  label: { lines: labelled.concat(watched) },
  container: { at: '2030-03-04T08:21:00Z', lines: ['w> 7', 'wait 40m', ...watched] },
  neck: { at: '2030-03-04T09:01:00Z', lines: ['w> 3', anew, ...watched] },
};

describe('a question that was open when the flows were changed', () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-moved-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  const play = (name: string, lines: readonly string[]) => {
    const file = join(folder, 'neckline.db');
    writeFileSync(file, gunzipSync(readFileSync(join(kept, 'asked', `${name}.db.gz`))));
    copyFileSync(join(kept, 'kept.key'), `${file}.key`);
    const phones = ['w +000555010001 role=worker', 'd +000555010002 role=doctor', 'l +000555010003 role=lab'];
    return playLines(
      [
        `at ${open[name]!.at ?? '2030-03-04T08:01:00Z'}`,
        ...[...phones, 'c +000555010004 role=coordinator'].map((one) => `phone ${one}`),
        ...lines,
      ],
      ['--db', file],
    );
  };

  it.each(Object.keys(open))('%s: is answered as it was shown, or asked anew, and the case goes on', async (name) => {
    const { code, printed } = await play(name, open[name]!.lines);
    expect(printed).not.toMatch(/failed line|bad line|parked|could not handle/);
    expect(code).toBe(0);
  });

  it.each(Object.keys(open))('%s: silence is followed up, and first aid is first aid', async (name) => {
    const { code, printed } = await play(name, ['w> SOS', 'w< FAINT', 'wait 3d', 'd< AK']);
    expect(printed).not.toMatch(/failed line|bad line|parked|could not handle/);
    expect(code).toBe(0);
  });
});
