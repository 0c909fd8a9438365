// Makes the built command executable, so that `npx neckline` and `dist/main.js` are the same program.
import { chmodSync } from 'node:fs';

chmodSync(new URL('../dist/main.js', import.meta.url), 0o755);
