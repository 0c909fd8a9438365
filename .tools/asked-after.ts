// Writes src/generated/asked-after.ts: which question came right after which in the conversation scripts, by what answer.
import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { PlayedMessage } from '../src/cli/player.ts';
import { AskedPairs } from '../tests/support/asked-after.ts';
import { playLines } from '../tests/support/play.ts';

const scripts = fileURLToPath(new URL('../tests/conversations/', import.meta.url));
const file = fileURLToPath(new URL('../src/generated/asked-after.ts', import.meta.url));
const pairs = new AskedPairs();
for (const name of readdirSync(scripts)
  .filter((one) => one.endsWith('.play'))
  .sort()) {
  const { json } = await playLines(readFileSync(`${scripts}${name}`, 'utf8').split('\n'));
  for (const row of json) if (row.dir) pairs.hear(row as unknown as PlayedMessage);
}
writeFileSync(
  file,
  `// Written by \`npm run asked-after\` from tests/conversations; a test compares.
/** Questions that came right after one, with the answers that led there: ids, \`a+b\` for several, \`any\` for a number. */
export const askedAfter: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = ${JSON.stringify(pairs.pairs, null, 2)};
`,
);
execFileSync('npx', ['biome', 'check', '--write', file], { stdio: 'inherit' });
