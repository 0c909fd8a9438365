// Which packages a release carries as files: those that stay outside the built ones, and what they need while they run.
import { cpSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Locked, lockedPackages, placeOf } from './lockfile.ts';

/** Needed to install only: finds and fetches a ready-built driver, which a release brings. */
const forInstallingOnly: ReadonlySet<string> = new Set(['prebuild-install']);
/** Of the driver only what is loaded: its sources and what compiling left are five times as large. */
const loadedOfDriver = ['LICENSE', 'package.json', 'lib', 'build/Release/better_sqlite3.node'];

/** Packages that a release carries in `node_modules`, by place. */
export function packedPackages(root: string): readonly Locked[] {
  const outside: readonly string[] = JSON.parse(readFileSync(join(root, '.tools/outside.json'), 'utf8'));
  const all = new Map(lockedPackages().map((one) => [one.place, one]));
  const packed = new Map<string, Locked>();
  const open: (readonly [string, string])[] = outside.map((name) => ['', name]);
  for (let next = open.pop(); next; next = open.pop()) {
    const place = placeOf(next[0], next[1], all);
    if (place === null || packed.has(place) || forInstallingOnly.has(next[1])) continue;
    const one = all.get(place)!;
    packed.set(place, one);
    for (const name of one.needs) open.push([place, name]);
  }
  return [...packed.values()].sort((a, b) => (a.place < b.place ? -1 : 1));
}

/** Copies what is loaded of one package; throws when it is not installed. */
export function copyPackage(root: string, folder: string, { name, place }: Locked): void {
  const from = join(root, place);
  // A package within a package is one of its own.
  const filter = (source: string) =>
    !source.slice(from.length).includes('node_modules') && !/\.(map|[cm]?ts)$/.test(source);
  for (const part of name === 'better-sqlite3' ? loadedOfDriver : ['.']) {
    cpSync(join(from, part), join(folder, place, part), { recursive: true, filter });
  }
}
