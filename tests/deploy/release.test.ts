import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { licenceTexts } from '../../.tools/licence-texts.ts';
import { lockedPackages } from '../../.tools/lockfile.ts';
import { packedPackages } from '../../.tools/packed-packages.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));

describe('a release', () => {
  it('carries the packages that are not in the built files, with what they need, and none that only installs or tests', () => {
    const names = packedPackages(root).map(({ name }) => name);
    expect(names).toEqual(
      expect.arrayContaining(['better-sqlite3', 'bindings', 'file-uri-to-path', 'grammy', 'pg', 'pg-types']),
    );
    for (const other of ['prebuild-install', 'tar-fs', 'zod', 'kysely', 'yaml', 'vitest', 'esbuild'])
      expect(names).not.toContain(other);
    expect(packedPackages(root).filter(({ use }) => use === 'test')).toEqual([]);
  });

  it('brings the licence of each package that runs in service, also of those in the built files', () => {
    const texts = licenceTexts(root);
    const shipped = lockedPackages().filter(({ use }) => use !== 'test');
    expect(texts.size).toBe(shipped.length);
    for (const { name, version, licence } of shipped) {
      const text = texts.get(`${name.replace('/', '__')}-${version}.txt`);
      expect(text, name).toContain(`${name} ${version}, ${licence}`);
      expect(text, name).toMatch(/copyright|public domain/i);
    }
  });

  it('is under the licence that the package names', () => {
    expect(readFileSync(join(root, 'LICENSE'), 'utf8')).toMatch(/^MIT License\n\nCopyright \(c\) \d{4} /);
  });
});

describe('an install without what builds', () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-prepare-'));
    mkdirSync(join(folder, '.tools'));
    copyFileSync(join(root, '.tools/prepare.mjs'), join(folder, '.tools/prepare.mjs'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  const prepare = () => spawnSync(process.execPath, ['.tools/prepare.mjs'], { cwd: folder, encoding: 'utf8' });

  it('ends with one sentence that says what to do', () => {
    const { status, stdout, stderr } = prepare();
    expect(status).toBe(1);
    expect(stdout).toBe('');
    expect(stderr.replace(/^Warning: .*extra certs.*\n/m, '')).toMatch(
      /^neckline is not built, .* run `npm ci`, then `npm run release`, .*\(deploy\/install\.md\)\.\n$/,
    );
  });

  it('leaves a command that is built already as it is', () => {
    mkdirSync(join(folder, 'dist'));
    writeFileSync(join(folder, 'dist/main.js'), '');
    expect(prepare().status).toBe(0);
  });
});
