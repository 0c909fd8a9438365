import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { playFile as play } from '../support/play.ts';

const folder = new URL('.', import.meta.url).pathname;
const scripts = readdirSync(folder)
  .filter((name) => name.endsWith('.play'))
  .sort();

describe('conversations, played whole', () => {
  it.each(scripts)('%s', async (name) => {
    const { code, printed } = await play(`${folder}${name}`);
    expect(printed.split('\n').filter((line) => /^(failed|bad) line/.test(line))).toEqual([]);
    expect(code).toBe(0);
  });

  it('the same script gives the same transcript twice', async () => {
    const first = scripts[0];
    if (!first) throw new Error('no scripts');
    expect((await play(`${folder}${first}`)).printed).toBe((await play(`${folder}${first}`)).printed);
  });

  it('no expectation is a bare word that any message contains', () => {
    const weak = scripts.flatMap((name) =>
      readFileSync(`${folder}${name}`, 'utf8')
        .split('\n')
        .filter((line) => /^\w+< ?[A-Za-z]{1,3}$/.test(line))
        .map((line) => `${name}: ${line}`),
    );
    expect(weak).toEqual([]);
  });
});
