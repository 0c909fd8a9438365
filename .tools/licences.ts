// Writes the tables of deploy/licences.md from the lock file; a test compares them.
import { readFileSync, writeFileSync } from 'node:fs';
import { lockedPackages } from './lockfile.ts';

/** What runs in service, one a line; what only tests need, by licence. */
export function licencesText(): string {
  const all = lockedPackages();
  const shipped = all.filter((one) => one.use !== 'test');
  const run = shipped.map((one) => `| ${one.name} | ${one.version} | ${one.licence} | ${one.use} |`);
  const tests = new Map<string, Set<string>>();
  for (const one of all.filter((each) => each.use === 'test')) {
    tests.set(one.licence, (tests.get(one.licence) ?? new Set()).add(one.name));
  }
  const counts = [...tests].sort().map(([licence, names]) => `| ${licence} | ${names.size} |`);
  return [
    ['| package | version | licence | use |', '| --- | --- | --- | --- |', ...run].join('\n'),
    ['| licence of packages for tests only | packages |', '| --- | --- |', ...counts].join('\n'),
  ].join('\n\n');
}

if (process.argv[1]?.endsWith('licences.ts')) {
  const file = new URL('../deploy/licences.md', import.meta.url);
  const between = /(<!-- licences -->\n)[\s\S]*?(<!-- \/licences -->)/;
  const text = readFileSync(file, 'utf8');
  writeFileSync(
    file,
    text.replace(between, (_all, open: string, close: string) => `${open}${licencesText()}\n${close}`),
  );
}
