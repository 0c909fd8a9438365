// Writes the archive that a server gets, its checksum and the script that installs it: `npm run release [-- --out FOLDER]`.
// The same tree, packages and driver give the same bytes.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { licenceTexts } from './licence-texts.ts';
import { copyPackage, packedPackages } from './packed-packages.ts';
import { billOfMaterials } from './sbom.ts';

const root = fileURLToPath(new URL('../', import.meta.url));
const driver = 'node_modules/better-sqlite3/build/Release/better_sqlite3.node';
/** Of no use in service: what maps a fault of a built file to its source is in the build of the same version. */
const isForService = (path: string): boolean => !path.endsWith('.map');

/** Writes the release into a folder and returns the path of the archive. Throws a sentence where something is missing. */
export function writeRelease(out: string): string {
  for (const needed of ['dist/main.js', driver]) {
    if (!existsSync(join(root, needed))) throw new Error(`${needed} is missing: run npm ci and npm run bundle first`);
  }
  const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { readonly version: string };
  const { arch, platform } = process;
  const abi = process.versions.modules;
  const scratch = mkdtempSync(join(tmpdir(), 'neckline-release-'));
  try {
    const top = `neckline-${version}`;
    const folder = join(scratch, top);
    fill(folder);
    writeFileSync(
      join(folder, 'RELEASE'),
      factsText({ version, platform, arch, abi, schema: schemaNames().join(' ') }),
    );
    writeFileSync(join(folder, 'MANIFEST.sha256'), checksums(folder));
    mkdirSync(out, { recursive: true });
    const name = `neckline-${version}-${platform}-${arch}-node${abi}.tar.gz`;
    pack(scratch, top, join(out, name));
    writeFileSync(join(out, `${name}.sha256`), `${sha256Of(join(out, name))}  ${name}\n`);
    cpSync(join(root, 'deploy/install.sh'), join(out, 'install.sh'));
    return join(out, name);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

function fill(folder: string): void {
  mkdirSync(folder, { recursive: true });
  for (const part of ['dist', 'flows', 'locales', 'deploy', 'LICENSE']) {
    cpSync(join(root, part), join(folder, part), { recursive: true, filter: isForService });
  }
  for (const one of packedPackages(root)) copyPackage(root, folder, one);
  mkdirSync(join(folder, 'licences'));
  for (const [name, text] of licenceTexts(root)) writeFileSync(join(folder, 'licences', name), text);
  writeFileSync(join(folder, 'sbom.json'), `${JSON.stringify(billOfMaterials(), null, 2)}\n`);
  const { name, version, description, license, type, engines, bin } = JSON.parse(
    readFileSync(join(root, 'package.json'), 'utf8'),
  );
  // Without scripts and packages for development: nothing is installed or built from here.
  const manifest = { name, version, description, license, private: true, type, engines, bin };
  writeFileSync(join(folder, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
}

/** Names of all migrations that this version knows, as the database keeps them. */
export function schemaNames(): readonly string[] {
  return readdirSync(join(root, 'src/store/migrations'))
    .filter((name) => /^\d{4}-/.test(name))
    .map((name) => name.replace(/\.ts$/, ''))
    .sort();
}

const factsText = (facts: Readonly<Record<string, string>>): string =>
  Object.entries(facts)
    .map(([name, value]) => `${name.toUpperCase()}=${value}\n`)
    .join('');

/** Every file with its checksum, as `sha256sum -c` reads them. Gives each one of two modes on the way. */
function checksums(folder: string): string {
  const files = (readdirSync(folder, { recursive: true }) as string[])
    .filter((name) => statSync(join(folder, name)).isFile())
    .sort();
  for (const name of files) chmodSync(join(folder, name), isCommand(name) ? 0o755 : 0o644);
  return files.map((name) => `${sha256Of(join(folder, name))}  ${name}\n`).join('');
}

const isCommand = (name: string): boolean => name === 'dist/main.js' || name.endsWith('.sh');

const sha256Of = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');

/** One order, one owner and one time for every file. */
function pack(scratch: string, top: string, archive: string): void {
  const stamp = process.env.SOURCE_DATE_EPOCH ?? timeOfCommit();
  const same = ['--sort=name', `--mtime=@${stamp}`, '--owner=0', '--group=0', '--numeric-owner', '--mode=u=rwX,go=rX'];
  const tar = execFileSync('tar', ['-C', scratch, '--format=ustar', ...same, '-cf', '-', top], { maxBuffer: 2 ** 30 });
  // -n: neither name nor time of the file in the head.
  writeFileSync(archive, execFileSync('gzip', ['-9', '-n'], { input: tar, maxBuffer: 2 ** 30 }));
}

/** Seconds since 1970 of the newest commit; 0 outside a repository. */
function timeOfCommit(): string {
  try {
    return execFileSync('git', ['-C', root, 'log', '-1', '--format=%ct'], { stdio: ['ignore', 'pipe', 'ignore'] })
      .toString()
      .trim();
  } catch {
    return '0';
  }
}

if (process.argv[1]?.endsWith('release.ts')) {
  const { values } = parseArgs({ options: { out: { type: 'string', default: join(root, 'release') } } });
  process.stdout.write(`${writeRelease(values.out)}\n`);
}
