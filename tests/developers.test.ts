import { readdirSync, readFileSync } from 'node:fs';
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

  it('names folders that exist', () => {
    const folders = readdirSync(new URL('../src/', import.meta.url));
    for (const name of [
      'clinical',
      'case',
      'conversation',
      'text',
      'line',
      'store',
      'channels',
      'content',
      'observe',
      'cli',
    ]) {
      expect(folders).toContain(name);
    }
  });
});
