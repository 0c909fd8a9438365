// What npm runs after an install: builds the command. Without the builder, which is for development only, a command that
// is built already is left as it is; else nothing would run, and this says what to do.
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';

const isBuilt = existsSync(fileURLToPath(new URL('../dist/main.js', import.meta.url)));
if (hasBuilder()) await import('./build.mjs');
else if (!isBuilt) {
  process.stderr.write(
    'neckline is not built, and its builder is not installed with --omit=dev: run `npm ci`, then `npm run release`, and ' +
      'install the archive that this writes (deploy/install.md).\n',
  );
  process.exitCode = 1;
}

function hasBuilder() {
  try {
    createRequire(import.meta.url).resolve('esbuild');
    return true;
  } catch {
    return false;
  }
}
