import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BotApiServer, until } from '../support/bot-api-server.ts';

const main = fileURLToPath(new URL('../../src/main.ts', import.meta.url));
const loader = import.meta.resolve('tsx');
const slowMs = 40_000;

let folder: string;
let server: BotApiServer;
const running = new Set<ChildProcess>();

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'neckline-telegram-start-'));
  server = await BotApiServer.start();
  const sample = readFileSync(new URL('../../flows/programme.yaml', import.meta.url), 'utf8');
  writeFileSync(join(folder, 'programme.yaml'), sample.replace('"bench:voice"', '"+000555010090"'));
});
afterEach(async () => {
  for (const one of running) one.kill('SIGKILL');
  await server.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function freePort(): Promise<string> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, '127.0.0.1', () => resolve()));
  const { port } = probe.address() as { port: number };
  await new Promise((resolve) => probe.close(resolve));
  return String(port);
}

function run(port: string, ...args: readonly string[]) {
  const env = {
    PATH: process.env.PATH,
    NECKLINE_DATA: join(folder, 'data'),
    NECKLINE_KEY_FILE: join(folder, 'line.key'),
    NECKLINE_PROGRAMME: join(folder, 'programme.yaml'),
    NECKLINE_TELEGRAM_TOKEN: '55:not-to-be-shown',
    NECKLINE_TELEGRAM_API_ROOT: server.root,
    NECKLINE_HTTP_PORT: port,
  };
  const child = spawn(process.execPath, ['--import', loader, main, ...args], {
    env,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  running.add(child);
  const written = { out: '', err: '' };
  child.stdout.on('data', (part) => {
    written.out += part;
  });
  child.stderr.on('data', (part) => {
    written.err += part;
  });
  const ended = new Promise<number | null>((resolve) => {
    child.on('close', (exit) => {
      running.delete(child);
      resolve(exit);
    });
  });
  return { child, written, ended };
}

describe('neckline start with a Telegram token', () => {
  it('lets somebody in by a link made while it runs, answers them, survives a kill, and ends in order', async () => {
    const port = await freePort();
    const first = run(port, 'start', '--trial');
    await until(() => first.written.out.includes('telegram'), slowMs, first.written.err);
    const invite = run(port, 'invite', '--add', 'worker', 'oruma', 'Nia', 'Bok');
    expect(await invite.ended).toBe(0);
    const payload = /start=(\S+)\n/.exec(invite.written.out)![1]!;
    const heard = (): string =>
      server
        .shownTo(7001)
        .map((one) => one.text)
        .join('\n');
    server.write(7001, `/start ${payload}`);
    await until(() => heard().includes('PRACTICE'), slowMs);
    server.write(7001, '23');
    await until(() => heard().includes('NEW starts a patient'), slowMs);

    first.child.kill('SIGKILL');
    await first.ended;
    server.write(7001, '/new');
    const second = run(port, 'start', '--trial');
    await until(() => heard().includes('NEW PATIENT'), slowMs, second.written.err);
    server.write(7001, 'AK 1982 F');
    await until(() => heard().includes('AK: breathing. 1 noisy'), slowMs);
    second.child.kill('SIGTERM');
    expect(await second.ended).toBe(0);
    const said = [first, second, invite].map((one) => one.written.out + one.written.err).join('\n');
    expect(said).not.toMatch(/not-to-be-shown|7001|danger signs/);
  }, 120_000);
});
