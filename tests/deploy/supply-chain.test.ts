import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { licencesText } from '../../.tools/licences.ts';
import { lockedPackages, product } from '../../.tools/lockfile.ts';
import { billOfMaterials } from '../../.tools/sbom.ts';

const root = new URL('../../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');
const all = lockedPackages();
const shipped = all.filter((one) => one.use !== 'test');

interface Manifest {
  readonly version: string;
  readonly license?: string | { readonly type: string };
  readonly scripts?: Readonly<Record<string, string>>;
}
const manifestOf = (place: string): Manifest | null =>
  existsSync(new URL(`${place}/package.json`, root)) ? JSON.parse(read(`${place}/package.json`)) : null;

describe('what is installed', () => {
  it('is what the manifest names and what those need, each with a checksum', () => {
    expect(shipped.length).toBeGreaterThan(30);
    const names = new Set(shipped.map((one) => one.name));
    expect(product().needs.filter((name) => !names.has(name))).toEqual([]);
    expect(names.has('vitest')).toBe(false);
    expect(all.filter((one) => !/^[0-9a-f]{128}$/.test(one.sha512)).map((one) => one.name)).toEqual([]);
  });

  it('runs no install script but that of the embedded database', () => {
    expect(shipped.filter((one) => one.hasInstallScript).map((one) => one.name)).toEqual(['better-sqlite3']);
    const brings = shipped.filter((one) => {
      const scripts = manifestOf(one.place)?.scripts ?? {};
      return ['preinstall', 'install', 'postinstall'].some((name) => name in scripts);
    });
    expect(brings.map((one) => one.name)).toEqual(['better-sqlite3']);
    // Tests bring one more: the compiler of TypeScript files, which only fetches its own program.
    expect(all.filter((one) => one.use === 'test' && one.hasInstallScript).map((one) => one.name)).toEqual(['esbuild']);
  });

  it('is named with exact versions', () => {
    const manifest = JSON.parse(read('package.json')) as Record<string, Record<string, string>>;
    for (const kind of ['dependencies', 'optionalDependencies', 'devDependencies']) {
      for (const [name, version] of Object.entries(manifest[kind]!)) expect(version, name).toMatch(/^\d+\.\d+\.\d+$/);
    }
  });

  it('names no place to fetch it from', () => {
    const lock = read('package-lock.json');
    expect(lock).not.toMatch(/"resolved"/);
    expect(lock).not.toMatch(
      /https?:\/\/(?!(www\.)?(patreon|github|opencollective|paypal|feross|i18next|locize|tidelift|ko-fi))/,
    );
  });
});

describe('licences', () => {
  const kept = ['MIT', 'ISC', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD'];

  it('are listed in deploy/licences.md as the lock file has them', () => {
    expect(read('deploy/licences.md')).toContain(`<!-- licences -->\n${licencesText()}\n<!-- /licences -->`);
  });

  it.each(shipped.map((one) => [one.name, one] as const))('%s may be passed on with its notice alone', (_name, one) => {
    const choices = one.licence.replace(/[()]/g, '').split(' OR ');
    expect(
      choices.some((each) => kept.includes(each)),
      one.licence,
    ).toBe(true);
    const said = manifestOf(one.place)?.license;
    if (typeof said === 'string') expect(said).toBe(one.licence);
  });
});

/** What CycloneDX 1.5 requires of a bill in JSON, from its published schema (from memory: no copy of it is kept here). */
describe('the bill of materials', () => {
  const bill = billOfMaterials() as {
    bomFormat: string;
    specVersion: string;
    serialNumber: string;
    version: number;
    metadata: { component: Record<string, unknown> };
    components: Record<string, unknown>[];
    dependencies: { ref: string; dependsOn: string[] }[];
  };

  it('says what it is', () => {
    expect(bill.bomFormat).toBe('CycloneDX');
    expect(bill.specVersion).toBe('1.5');
    expect(bill.serialNumber).toMatch(/^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/);
    expect(Number.isInteger(bill.version) && bill.version >= 1).toBe(true);
    expect(Object.keys(bill).sort()).toEqual(
      [
        '$schema',
        'bomFormat',
        'components',
        'dependencies',
        'metadata',
        'serialNumber',
        'specVersion',
        'version',
      ].sort(),
    );
  });

  it('has each component once, with type, name, version, licence, checksum and package address', () => {
    expect(bill.components).toHaveLength(shipped.length);
    for (const one of [...bill.components, bill.metadata.component]) {
      expect(['library', 'application']).toContain(one.type);
      expect(one.name).toMatch(/^[\w.-]+$/);
      expect(one.version).toMatch(/^\d+\.\d+\.\d+/);
      expect(one.purl).toMatch(/^pkg:npm\/(%40[\w.-]+\/)?[\w.-]+@\d/);
      expect(one['bom-ref']).toBe(one.purl);
      const licences = one.licenses as readonly Record<string, unknown>[];
      expect(licences).toHaveLength(1);
      expect('license' in licences[0]! || 'expression' in licences[0]!).toBe(true);
    }
    for (const one of bill.components) {
      expect(['required', 'optional']).toContain(one.scope);
      expect(one.hashes).toEqual([{ alg: 'SHA-512', content: expect.stringMatching(/^[0-9a-f]{128}$/) }]);
    }
    expect(new Set(bill.components.map((one) => one['bom-ref'])).size).toBe(bill.components.length);
  });

  it('says who needs whom, naming only what is in it, each once', () => {
    const refs = new Set([...bill.components, bill.metadata.component].map((one) => String(one['bom-ref'])));
    expect(new Set(bill.dependencies.map((one) => one.ref))).toEqual(refs);
    for (const one of bill.dependencies) {
      expect(one.dependsOn.filter((ref) => !refs.has(ref))).toEqual([]);
      expect(new Set(one.dependsOn).size).toBe(one.dependsOn.length);
    }
    expect(bill.dependencies[0]!.dependsOn.length).toBe(product().needs.length);
  });

  it('is the same each time and names no place', () => {
    expect(JSON.stringify(billOfMaterials())).toBe(JSON.stringify(bill));
    expect(JSON.stringify(bill).replace('http://cyclonedx.org/schema/bom-1.5.schema.json', '')).not.toMatch(
      /https?:|file:/,
    );
  });
});

describe('deploy/supply-chain.md', () => {
  it('says when known faults were last looked for', () => {
    expect(read('deploy/supply-chain.md')).toMatch(/Last run: \*\*(never|\d{4}-\d\d-\d\d)\*\*/);
    expect(read('package.json')).toContain('"advisories": "npm audit --omit=dev');
  });

  it('each script it names exists', () => {
    const scripts = readdirSync(new URL('.tools/', root));
    expect(scripts).toEqual(expect.arrayContaining(['install.sh', 'licences.ts', 'sbom.ts']));
  });
});
