// Builds the command: the line and its packages in few files, since finding hundreds of small ones takes longer than
// running them. What is native, optional or used by one channel alone stays outside.
import { chmodSync, copyFileSync, readFileSync, renameSync, rmSync } from 'node:fs';
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
// The page of the bench: what a browser runs shares the line's own pure code.
await build({
  absWorkingDir: root,
  entryPoints: { page: 'src/channels/bench/page/main.ts', style: 'src/channels/bench/page/page.css' },
  outdir: 'dist/bench',
  bundle: true,
  minify: true,
  platform: 'browser',
  target: 'es2022',
  format: 'esm',
  logLevel: 'warning',
});
renameSync(join(root, 'dist/bench/style.css'), join(root, 'dist/bench/page.css'));
copyFileSync(join(root, 'src/channels/bench/page/page.html'), join(root, 'dist/bench/page.html'));
// So that `npx neckline` and `dist/main.js` are the same program.
chmodSync(join(root, 'dist/main.js'), 0o755);
