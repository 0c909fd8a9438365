import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { diskFolder } from '../support/disk-folder.ts';

/** Folder of a Debian PostgreSQL's programs, or null where none is installed. */
export function serverPrograms(): string | null {
  const root = '/usr/lib/postgresql';
  if (!existsSync(root)) return null;
  const newest = readdirSync(root)
    .sort((a, b) => Number(a) - Number(b))
    .at(-1);
  return newest === undefined ? null : join(root, newest, 'bin');
}

/** A server of its own on a free port; its writes are durable only where that is asked for. `stop` removes it. */
export async function startServer(
  programs: string,
  { durable = false }: { readonly durable?: boolean } = {},
): Promise<{ url: string; fresh(): string; stop(): void }> {
  const folder = diskFolder('neckline-pg-');
  chmodSync(folder, 0o755);
  const root = process.getuid?.() === 0;
  if (root) execFileSync('chown', ['postgres', folder]);
  const run = (program: string, args: readonly string[]) => {
    const command = [join(programs, program), ...args];
    const [file, ...rest] = root ? ['runuser', '-u', 'postgres', '--', ...command] : command;
    execFileSync(file!, rest, { stdio: 'ignore', cwd: folder });
  };
  const port = await freePort();
  const data = join(folder, 'data');
  run('initdb', ['--no-sync', '-D', data, '-A', 'trust', '-U', 'postgres', '-E', 'UTF8', '--locale=C.UTF-8']);
  const settings = `-p ${port} -c listen_addresses=127.0.0.1 -c unix_socket_directories=${folder} -c fsync=${durable ? 'on' : 'off'}`;
  run('pg_ctl', ['-D', data, '-l', join(folder, 'log'), '-w', '-o', settings, 'start']);
  const url = `postgres://postgres@127.0.0.1:${port}`;
  let made = 0;
  return {
    url,
    fresh() {
      made += 1;
      const name = `line${made}`;
      run('createdb', ['-h', '127.0.0.1', '-p', String(port), '-U', 'postgres', name]);
      return `${url}/${name}`;
    },
    stop() {
      run('pg_ctl', ['-D', data, '-m', 'immediate', '-w', 'stop']);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => (address && typeof address === 'object' ? resolve(address.port) : reject(new Error('port'))));
    });
  });
}
