// Builds the command: the line and its packages in few files, since finding hundreds of small ones takes longer than
// running them. What is native, optional or used by one channel alone stays outside.
import { chmodSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../', import.meta.url));
rmSync(join(root, 'dist'), { recursive: true, force: true });
await build({
  absWorkingDir: root,
  entryPoints: ['src/main.ts'],
  outdir: 'dist',
  // As deep as in src: the package's own folder is found from there.
  chunkNames: 'line/[name]-[hash]',
  bundle: true,
  splitting: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  external: JSON.parse(readFileSync(join(root, '.tools/outside.json'), 'utf8')),
  // Packages in the older format ask for Node's modules by `require`.
  banner: { js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);" },
  // For .tools/place.mjs; loading them at run time would cost a tenth of the memory.
  sourcemap: true,
  sourcesContent: false,
  logLevel: 'warning',
});
// So that `npx neckline` and `dist/main.js` are the same program.
chmodSync(join(root, 'dist/main.js'), 0o755);
