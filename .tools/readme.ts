// Writes the blocks of the README that tests compare with what the line really says, and the paper that the bench gives.
import { readFileSync, writeFileSync } from 'node:fs';
import { capacityPage } from '../tests/bench/capacity.ts';
import { readmeBlocks } from '../tests/support/readme-blocks.ts';

const file = new URL('../README.md', import.meta.url);
let text = readFileSync(file, 'utf8');
for (const [name, block] of Object.entries(await readmeBlocks())) {
  text = text.replace(
    new RegExp(`(<!-- ${name} -->\n)[\\s\\S]*?(<!-- /${name} -->)`),
    (_all, open: string, close: string) => `${open}${block}\n${close}`,
  );
}
writeFileSync(file, text);

const last = JSON.parse(readFileSync(new URL('../tests/bench/last.json', import.meta.url), 'utf8'));
writeFileSync(new URL('../deploy/capacity.md', import.meta.url), capacityPage(last));
