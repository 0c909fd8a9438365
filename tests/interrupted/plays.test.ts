import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { chanceOf } from '../simulation/chance.ts';
import { runs } from '../support/runs.ts';
import { playInterrupted } from './interrupted.ts';

const folder = new URL('../conversations/', import.meta.url);
/** In English on SMS, and without a crash in the middle: what others read there they understand. */
const scripts = readdirSync(folder)
  .filter((name) => name.endsWith('.play'))
  .sort()
  .map((name) => ({ name, lines: readFileSync(new URL(name, folder), 'utf8').split('\n') }))
  .filter(({ lines }) => !lines.some((line) => /locale=|channel=|^crash/u.test(line)));

/** Every run interrupts others; `INTERRUPTED_SEED` the same again. */
const first = Number(process.env.INTERRUPTED_SEED ?? Math.floor(Date.now() / 1000));
const times = Number(process.env.INTERRUPTED_TIMES ?? runs(60, 6_000));
const parts = 4;
/** Four times what one takes on an idle machine. */
const longest = Math.max(60_000, times * 1_000);

describe(`conversations in the middle of which others do what they like (seed ${first})`, () => {
  it.each(Array.from({ length: parts }, (_, part) => part))(
    'set nothing aside, say nothing that is not so, and leave no word out (part %i)',
    async (part) => {
      const wrong: string[] = [];
      for (let seed = first + part; seed < first + times; seed += parts) {
        const { name, lines } = chanceOf(seed).pick(scripts);
        const found = await playInterrupted(lines, seed);
        wrong.push(...found.map((one) => `INTERRUPTED_SEED=${seed} INTERRUPTED_TIMES=1 ${name}: ${one}`));
      }
      expect(wrong).toEqual([]);
    },
    longest,
  );
});
