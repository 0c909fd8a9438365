/** Bundles the line's process and keeps it, loaded, as a start-up snapshot: a life then begins in a tenth of a second. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buildSync } from 'esbuild';

export const packageRoot: string = join(import.meta.dirname, '..', '..');

/** Arguments for Node that begin a life. */
export function buildChild(): readonly string[] {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-crash-child-'));
  const bundle = join(folder, 'child.cjs');
  buildSync({
    entryPoints: [join(import.meta.dirname, 'child.ts')],
    bundle: true,
    platform: 'node',
    format: 'cjs',
    outfile: bundle,
    alias: {
      'better-sqlite3': join(import.meta.dirname, 'sqlite-later.cjs'),
      pg: join(import.meta.dirname, 'pg-later.cjs'),
      'node:http': join(import.meta.dirname, 'http-later.cjs'),
    },
    // Only the place of the package is asked of it, and that comes with the orders.
    define: { 'import.meta.url': '"file:///line.invalid/child.cjs"' },
    logLevel: 'error',
  });
  const blob = join(folder, 'child.blob');
  execFileSync(process.execPath, ['--snapshot-blob', blob, '--build-snapshot', bundle], {
    env: { ...process.env, CRASH_ROOT: packageRoot },
    stdio: ['ignore', 'ignore', 'inherit'],
    timeout: 60_000,
  });
  return ['--snapshot-blob', blob];
}
