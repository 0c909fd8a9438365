import { spawn } from 'node:child_process';
import { existsSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { diskFolder } from '../support/disk-folder.ts';
import { freePort } from '../support/free-port.ts';
import { hasKannel, Kannel, until } from './kannel.ts';

const phone = '+000555010001';
const script = fileURLToPath(new URL('../../deploy/wait-for-port.sh', import.meta.url));

let folder: string;
let kannel: Kannel;
let line: Server | null = null;
const heard: string[] = [];

/** Stands where the line would and takes what comes. */
async function openLine(): Promise<void> {
  line = createServer((request, response) => {
    let body = '';
    request.on('data', (part: Buffer) => {
      body += part.toString('utf8');
    });
    request.on('end', () => {
      heard.push(body);
      response.writeHead(200, { 'content-length': '0' }).end();
    });
  });
  await new Promise<void>((resolve) => line!.listen(kannel.ports.line, '127.0.0.1', () => resolve()));
}

const log = (): string => join(folder, 'run/bearerbox-access.log');

describe.skipIf(!hasKannel)('the gateway as its services run it', () => {
  beforeAll(async () => {
    folder = diskFolder('neckline-services-');
    const [admin, boxes, send, network, own] = [
      await freePort(),
      await freePort(),
      await freePort(),
      await freePort(),
      await freePort(),
    ];
    const ports = { admin: admin!, boxes: boxes!, send: send!, network: network!, line: own! };
    kannel = new Kannel(folder, ports, 'shared-secret-of-this-test', 'account-password');
    await kannel.start();
    await openLine();
  }, 30_000);
  afterAll(async () => {
    line?.close();
    await kannel.stop('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  });

  it('opens its logs anew when they are rotated, and loses no line', async () => {
    kannel.send(phone, 'before');
    await until(() => heard.includes('before'), 'the first text');
    renameSync(log(), `${log()}.1`);
    kannel.signal('bearerbox', 'SIGHUP');
    kannel.signal('smsbox', 'SIGHUP');
    await until(() => existsSync(log()), 'the new log');
    kannel.send(phone, 'after');
    await until(() => heard.includes('after'), 'the second text');
    await until(() => readFileSync(log(), 'utf8').includes(' Receive SMS '), 'its line');
    expect(readFileSync(`${log()}.1`, 'utf8').split(' Receive SMS ')).toHaveLength(2);
  }, 30_000);

  it('stopped while the line is away, waits for it, and what smsbox held in memory reaches it first', async () => {
    line!.closeAllConnections();
    await new Promise((resolve) => line!.close(resolve));
    kannel.send(phone, 'held');
    await until(() => readFileSync(log(), 'utf8').split(' Receive SMS ').length === 3, 'the text at the gateway');
    await sleep(500);
    // As the unit's ExecStop does, then the signal; the gateway of the test tries again each second.
    const stop = spawn('bash', [script, '127.0.0.1', String(kannel.ports.line), '20', '3'], { stdio: 'ignore' });
    const stopped = new Promise<number | null>((resolve) => stop.once('close', resolve));
    await sleep(1500);
    expect(heard).not.toContain('held');
    await openLine();
    expect(await stopped).toBe(0);
    kannel.signal('smsbox', 'SIGTERM');
    await kannel.ended('smsbox');
    expect(heard.filter((text) => text === 'held')).toHaveLength(1);
  }, 30_000);
});
