import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { flowTraits, stateTraits } from '../src/content/flow-schema.ts';

const read = (name: string): string => readFileSync(new URL(`../${name}`, import.meta.url), 'utf8');

function block(text: string, name: string): string {
  return new RegExp(`<!-- ${name} -->\n([\\s\\S]*?)\n?<!-- /${name} -->`).exec(text)?.[1] ?? '';
}

describe('DEVELOPERS.md', () => {
  const text = read('DEVELOPERS.md');

  it('stays under 300 lines', () => {
    expect(text.split('\n').length).toBeLessThanOrEqual(300);
  });

  it('lists the error codes of the store, all of them and no others', () => {
    const source = read('src/store/store-error.ts');
    const union = /export type StoreErrorCode =([\s\S]*?);/.exec(source)?.[1] ?? '';
    const inCode = [...union.matchAll(/'([a-z-]+)'/g)].map((found) => found[1]).sort();
    const inText = [...block(text, 'store-errors').matchAll(/`([a-z-]+)`/g)].map((found) => found[1]).sort();
    expect(inCode.length).toBeGreaterThan(5);
    expect(inText).toEqual(inCode);
  });

  it('lists the traits of flows and states, all of them and no others', () => {
    const valuesOf = (of: string, shape: Readonly<Record<string, unknown>>) =>
      Object.entries(shape).flatMap(([name, schema]) => {
        const one = schema as { unwrap(): { options?: readonly string[]; values?: ReadonlySet<string> } };
        const { options, values } = one.unwrap();
        const said = name === 'carries' ? ['STATUS'] : (options ?? (values ? [...values] : ['TIMER']));
        return said.map((value) => `${name}: ${value} of ${of}`);
      });
    const inCode = [...valuesOf('flow', flowTraits.shape), ...valuesOf('state', stateTraits.shape)].sort();
    const rows = [...block(text, 'traits').matchAll(/^\| `([^`]+)` +\| ([a-z, ]+?) +\|/gmu)];
    const inText = rows.flatMap(([, trait, of]) => of!.split(', ').map((one) => `${trait} of ${one}`)).sort();
    expect(inText).toEqual(inCode);
  });

  it('gives a reason for every dependency at run time', () => {
    const { dependencies, optionalDependencies } = JSON.parse(read('package.json')) as Record<
      string,
      Record<string, string>
    >;
    const names = Object.keys({ ...dependencies, ...optionalDependencies });
    expect(names.filter((name) => !text.includes(`| ${name}`))).toEqual([]);
  });

  it('every dependency is pinned to one version', () => {
    const { dependencies, optionalDependencies, devDependencies } = JSON.parse(read('package.json')) as Record<
      string,
      Record<string, string>
    >;
    const versions = Object.entries({ ...dependencies, ...optionalDependencies, ...devDependencies });
    expect(versions.filter(([, version]) => !/^\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  });

  it('names files and folders that exist', () => {
    const named = [...text.matchAll(/`?((?:src|flows|locales|tests|deploy|\.tools|\.ci)\/[\w./<>*-]*)/g)].map((found) =>
      found[1]!.replace(/[.]$/, ''),
    );
    expect(named.length).toBeGreaterThan(100);
    const open = /[<*]/;
    const whole = named.map((path) =>
      open.test(path) ? path.slice(0, path.slice(0, path.search(open)).lastIndexOf('/')) : path,
    );
    expect(whole.filter((path) => !existsSync(new URL(`../${path}`, import.meta.url)))).toEqual([]);
  });

  it('explains each layer of src', () => {
    const folders = readdirSync(new URL('../src/', import.meta.url), { withFileTypes: true })
      .filter((entry) => entry.isDirectory())
      .map((entry) => entry.name);
    const layers = text.slice(text.indexOf('## Layers'), text.indexOf('## Rooms'));
    expect(folders.filter((name) => !layers.includes(`\`${name}\``))).toEqual([]);
  });
});

describe('the glossary', () => {
  const lines = block(read('DEVELOPERS.md'), 'glossary').split('\n');
  const words = lines.map((line) => /^- \*\*([\w-]+)\*\*: .+ `(src\/[\w./-]+)`$/.exec(line));

  it('gives each private word one line and the file to begin in, in the order of the alphabet', () => {
    expect(lines.filter((_, at) => words[at] === null)).toEqual([]);
    const names = words.map((found) => found![1]!.toLowerCase());
    expect(names.length).toBeGreaterThan(40);
    expect(names).toEqual([...new Set(names)].sort());
  });

  it.each(words.map((found) => [found?.[1] ?? '', found?.[2] ?? ''] as const))(
    '%s is a word of %s today',
    (word, path) => {
      // A name of the code, or a part of one: `climbQuestion`, `frozenFor`.
      const own = word[0] === word[0]!.toUpperCase();
      const known = own ? new RegExp(`(class|interface|type) \\w*${word}s?\\b`) : new RegExp(word, 'i');
      expect(known.test(read(path))).toBe(true);
    },
  );
});
