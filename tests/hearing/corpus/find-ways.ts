/** Writes `ways.json`: as few plays as lead to every question. Run after a question was added: `npx tsx tests/hearing/corpus/find-ways.ts`. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { placesOf } from './places.ts';
import { fileOf } from './ways.ts';

const own = new URL('./ways/', import.meta.url).pathname;
const plays = new URL('../../conversations/', import.meta.url).pathname;

const scripts = [
  ...readdirSync(own).map((name) => `hearing/corpus/ways/${name}`),
  ...readdirSync(plays).map((name) => `conversations/${name}`),
].filter((name) => name.endsWith('.play'));

const reached = new Map<string, { readonly names: readonly string[]; readonly lines: number }>();
for (const script of scripts) {
  const lines = readFileSync(fileOf(script), 'utf8').split('\n').length;
  reached.set(script, { names: [...(await placesOf(fileOf(script), null)).keys()], lines });
}

const left = new Set([...reached.values()].flatMap((one) => one.names));
const ways: Record<string, string[]> = {};
while (left.size > 0) {
  let best = { script: '', names: [] as string[], worth: 0 };
  for (const [script, { names, lines }] of reached) {
    const more = names.filter((name) => left.has(name));
    const worth = more.length / (lines + 10);
    if (worth > best.worth) best = { script, names: more, worth };
  }
  ways[best.script] = best.names.sort();
  for (const name of best.names) left.delete(name);
}
const sorted = Object.fromEntries(Object.entries(ways).sort(([a], [b]) => (a < b ? -1 : 1)));
writeFileSync(new URL('./ways.json', import.meta.url), `${JSON.stringify(sorted, null, 2)}\n`);
