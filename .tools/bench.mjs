// Runs the bench as the line itself runs: bundled. What runs TypeScript as it stands keeps the name of every function at
// each of its makings, which costs more than some of what is measured.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../', import.meta.url));
// As deep as tests/bench: the package's own folder is found from there.
const outfile = `${root}dist/bench/run.js`;
await build({
  absWorkingDir: root,
  entryPoints: ['tests/bench/run.ts'],
  outfile,
  bundle: true,
  packages: 'external',
  platform: 'node',
  target: 'node20',
  format: 'esm',
  logLevel: 'warning',
});
process.exitCode = spawnSync(process.execPath, [outfile, ...process.argv.slice(2)], { stdio: 'inherit' }).status ?? 1;
