import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkCode } from '../src/case/code.ts';
import { costOf, readmeBlocks } from './support/readme-blocks.ts';

const read = (name: string): string => readFileSync(new URL(`../${name}`, import.meta.url), 'utf8');

function block(text: string, name: string): string {
  return new RegExp(`<!-- ${name} -->\n([\\s\\S]*?)\n?<!-- /${name} -->`).exec(text)?.[1] ?? '';
}

describe('the README', () => {
  it('shows the transcript and the cost that the line really gives (npm run readme writes them)', async () => {
    const readme = read('README.md');
    for (const [name, wanted] of Object.entries(await readmeBlocks())) expect(block(readme, name)).toBe(wanted);
  });

  it('opens with the job in one paragraph and holds the two commands', () => {
    const readme = read('README.md');
    expect(readme.split('\n\n')[1]).toMatch(/^A health worker at a poorly equipped clinic/);
    expect(readme).toContain('npm ci && npm start');
    expect(readme).toContain('npm ci && npm test');
  });

  it('prints only codes whose check digits are right', () => {
    const texts = [read('README.md'), read('DEVELOPERS.md')].join('\n');
    const codes = texts.match(/(?<!YES )\b(?!(?:19|20)\d\d \d{4} \d{4})\d{4} \d{4}\b|\b\d{8}\b/g) ?? [];
    expect(codes.length).toBeGreaterThan(0);
    expect(codes.filter((code) => !checkCode(code).ok)).toEqual([]);
  });
});

describe('the straight case', () => {
  // Printed, not gated, until the words are written anew.
  it.each(['straight.play', 'straight-quick.play'])(
    '%s: what everybody sends and receives is counted',
    async (play) => {
      const { w, l, d } = await costOf(play);
      const figures = [w, l, d].flatMap((one) => [one!.sends.segments, one!.receives.segments]);
      console.info(`${play}: sends and segments of worker, laboratory, doctor ${figures.join(' ')}`);
      expect(Math.min(...figures)).toBeGreaterThan(0);
    },
  );
});
