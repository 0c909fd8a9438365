// Prints the bill of materials of what runs in service: CycloneDX 1.5, from the lock file alone. `npm run sbom > sbom.json`
import { createHash } from 'node:crypto';
import { lockedPackages, placeOf, product } from './lockfile.ts';

const purl = (one: { readonly name: string; readonly version: string }): string =>
  `pkg:npm/${one.name.replace('@', '%40')}@${one.version}`;

/** The bill as data. The same lock file gives the same bill, its serial number too; it holds no time and no address. */
export function billOfMaterials(): Readonly<Record<string, unknown>> {
  const own = product();
  const all = new Map(lockedPackages().map((one) => [one.place, one]));
  const shipped = [...all.values()].filter((one) => one.use !== 'test');
  const places = new Set(shipped.map((one) => one.place));
  const refsOf = (from: string, needs: readonly string[]): readonly string[] =>
    [
      ...new Set(
        needs.flatMap((name) => {
          const place = placeOf(from, name, places);
          return place === null ? [] : [purl(all.get(place)!)];
        }),
      ),
    ].sort();
  const components = shipped.map((one) => {
    const [scope, plain] = one.name.startsWith('@') ? one.name.split('/') : ['', one.name];
    return {
      type: 'library',
      'bom-ref': purl(one),
      ...(scope === '' ? {} : { group: scope }),
      name: plain,
      version: one.version,
      scope: one.use === 'run' ? 'required' : 'optional',
      hashes: [{ alg: 'SHA-512', content: one.sha512 }],
      licenses: /^[\w.-]+$/.test(one.licence) ? [{ license: { id: one.licence } }] : [{ expression: one.licence }],
      purl: purl(one),
    };
  });
  const ref = purl(own);
  const uuid = createHash('sha256').update(JSON.stringify(components)).digest('hex');
  return {
    $schema: 'http://cyclonedx.org/schema/bom-1.5.schema.json',
    bomFormat: 'CycloneDX',
    specVersion: '1.5',
    serialNumber: `urn:uuid:${uuid.slice(0, 8)}-${uuid.slice(8, 12)}-5${uuid.slice(13, 16)}-8${uuid.slice(17, 20)}-${uuid.slice(20, 32)}`,
    version: 1,
    metadata: {
      component: {
        type: 'application',
        'bom-ref': ref,
        name: own.name,
        version: own.version,
        licenses: [{ license: { id: 'MIT' } }],
        purl: ref,
      },
    },
    components,
    dependencies: [
      { ref, dependsOn: refsOf('', own.needs) },
      ...shipped.map((one) => ({ ref: purl(one), dependsOn: refsOf(one.place, one.needs) })),
    ],
  };
}

if (process.argv[1]?.endsWith('sbom.ts')) {
  process.stdout.write(`${JSON.stringify(billOfMaterials(), null, 2)}\n`);
}
