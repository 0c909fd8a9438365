import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { askedAfter } from '../../src/generated/asked-after.ts';
import { playProbed } from '../probe/play-probed.ts';
import { AskedPairs } from '../support/asked-after.ts';
import { playFile as play } from '../support/play.ts';

const folder = new URL('.', import.meta.url).pathname;
const scripts = readdirSync(folder)
  .filter((name) => name.endsWith('.play'))
  .sort();

/** Which question came right after which. */
const pairs = new AskedPairs();

/** SOS that were sent after all these conversations. */
let asked = 0;

/** Texts that claim something and were held against the record. */
const claimed = new Set<string>();

describe('conversations, played whole, and after each an SOS of everybody', () => {
  it.each(scripts)('%s', async (name) => {
    const { failures, untrue, probed } = await playProbed(`${folder}${name}`, pairs, claimed);
    asked += probed.asked;
    expect({ failures, untrue, unheard: probed.faults }).toEqual({ failures: [], untrue: [], unheard: [] });
  });

  it('every question that came right after another one stands in the list that `check` holds against doubled texts', () => {
    expect(pairs.pairs).toEqual(askedAfter);
  });

  it('at least sixty texts that claim something are said in them', () => {
    expect(claimed.size).toBeGreaterThanOrEqual(60);
  });

  it('as many SOS were heard as the README says', () => {
    const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
    expect(Number(/<!-- probe -->[\s\S]*?([\d,]+) SOS/.exec(readme)?.[1]?.replace(',', ''))).toBe(asked);
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
