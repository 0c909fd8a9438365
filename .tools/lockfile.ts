// What the lock file says of every package: name, version, licence, use, checksum and what it needs.
import { readFileSync } from 'node:fs';

export interface Locked {
  readonly name: string;
  readonly version: string;
  readonly licence: string;
  /** `run`: needed by the line; `optional`: only where PostgreSQL is used; `test`: never installed in service. */
  readonly use: 'run' | 'optional' | 'test';
  /** SHA-512 in hexadecimal digits, '' where the lock file has none. */
  readonly sha512: string;
  readonly hasInstallScript: boolean;
  readonly needs: readonly string[];
  /** Place in `node_modules`. */
  readonly place: string;
}

interface Entry {
  readonly version: string;
  readonly license?: string;
  readonly integrity?: string;
  readonly hasInstallScript?: boolean;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly optionalDependencies?: Readonly<Record<string, string>>;
}

const file = new URL('../package-lock.json', import.meta.url);
const packages = (): Readonly<Record<string, Entry>> => JSON.parse(readFileSync(file, 'utf8')).packages;

/** Every locked package, by place. */
export function lockedPackages(): readonly Locked[] {
  const all = packages();
  const own = all['']!;
  const run = reached(all, Object.keys(own.dependencies ?? {}));
  const optional = reached(all, Object.keys(own.optionalDependencies ?? {}));
  return Object.entries(all)
    .filter(([place]) => place !== '')
    .map(([place, one]) => ({
      name: place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length),
      version: one.version,
      licence: one.license ?? '',
      use: run.has(place) ? ('run' as const) : optional.has(place) ? ('optional' as const) : ('test' as const),
      sha512: sha512Of(one.integrity ?? ''),
      hasInstallScript: one.hasInstallScript === true,
      needs: needsOf(one),
      place,
    }))
    .sort((a, b) => (a.place < b.place ? -1 : 1));
}

/** The place at which a package finds another, as Node looks for it: beside it, then further up. Null = not installed. */
export function placeOf(from: string, name: string, places: { has(place: string): boolean }): string | null {
  for (let at = from; ; at = at.slice(0, Math.max(0, at.lastIndexOf('node_modules/') - 1))) {
    const place = at === '' ? `node_modules/${name}` : `${at}/node_modules/${name}`;
    if (places.has(place)) return place;
    if (at === '') return null;
  }
}

const needsOf = (one: Entry): readonly string[] => Object.keys({ ...one.dependencies, ...one.optionalDependencies });

function reached(all: Readonly<Record<string, Entry>>, names: readonly string[]): ReadonlySet<string> {
  const places = new Set(Object.keys(all));
  const found = new Set<string>();
  const open: (readonly [string, string])[] = names.map((name) => ['', name]);
  for (let next = open.pop(); next; next = open.pop()) {
    const place = placeOf(next[0], next[1], places);
    if (place === null || found.has(place)) continue;
    found.add(place);
    for (const name of needsOf(all[place]!)) open.push([place, name]);
  }
  return found;
}

/** The product's own name, version and direct needs. */
export function product(): { readonly name: string; readonly version: string; readonly needs: readonly string[] } {
  const { version, dependencies, optionalDependencies } = packages()['']!;
  return { name: 'neckline', version, needs: Object.keys({ ...dependencies, ...optionalDependencies }) };
}

function sha512Of(integrity: string): string {
  const found = /^sha512-(\S+)$/.exec(integrity);
  return found ? Buffer.from(found[1]!, 'base64').toString('hex') : '';
}
