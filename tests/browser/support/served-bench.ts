/** The line as it is started by hand, with nothing configured: a process of its own, on data of its own. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { freePort } from '../../support/free-port.ts';

const program = fileURLToPath(new URL('../../../dist/main.js', import.meta.url));

export interface ServedBench {
  readonly url: string;
  /** Ends the line in order and takes its data away. */
  close(): Promise<void>;
}

/** Starts it with `more` settings; rejects with what it wrote when it does not serve. `npm run bundle` has to have been run. */
export async function serveBench(more: Readonly<Record<string, string>> = {}): Promise<ServedBench> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-browser-'));
  const line = spawn(process.execPath, [program, 'start'], {
    cwd: folder,
    env: { PATH: process.env.PATH, NECKLINE_DATA: folder, NECKLINE_BENCH_PORT: String(await freePort()), ...more },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let written = '';
  const url = await new Promise<string>((resolve, reject) => {
    const read = (part: Buffer): void => {
      written += part;
      const found = /^Phone bench: (\S+)$/m.exec(written);
      if (found) resolve(found[1]!);
    };
    line.stdout.on('data', read);
    line.stderr.on('data', read);
    line.once('exit', () => reject(new Error(written)));
  });
  return {
    url,
    close: async () => {
      const gone = once(line, 'exit');
      line.kill('SIGTERM');
      await gone;
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
