import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { type AddressInfo, createServer, type Server } from 'node:net';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { hasKannel } from '../gateway/kannel.ts';
import { freePort } from '../support/free-port.ts';

const deploy = new URL('../../deploy/', import.meta.url);
const path = (name: string): string => fileURLToPath(new URL(name, deploy));
const read = (name: string): string => readFileSync(path(name), 'utf8');
const lines = (name: string): readonly string[] => read(name).split('\n');
const settings = new Map(
  [...read('kannel.conf').matchAll(/^([a-z-]+) = "?([^"\n]+)"?$/gm)].map((found) => [found[1]!, found[2]!]),
);
const units = ['kannel-bearerbox.service', 'kannel-smsbox.service'];
const verifier = '/usr/bin/systemd-analyze';

describe('the gateway as services', () => {
  it.skipIf(!existsSync(verifier) || !hasKannel)('are units that the system reads without a complaint', () => {
    const { status, stdout, stderr } = spawnSync(verifier, ['verify', ...units.map(path)]);
    const ours = `${stdout}${stderr}`.split('\n').filter((line) => line.includes('kannel'));
    expect({ status, ours }).toEqual({ status: 0, ours: [] });
  });

  it.each(units)(
    '%s reads the one configuration, is started again whatever happens, and keeps no picture of its memory',
    (name) => {
      const box = name === 'kannel-smsbox.service' ? 'smsbox' : 'bearerbox';
      for (const line of [
        `ExecStart=/usr/sbin/${box} -v 4 /etc/kannel/neckline.conf`,
        'User=kannel',
        'Restart=always',
        'StartLimitIntervalSec=0',
        'LimitCORE=0',
        'ProtectSystem=strict',
        'NoNewPrivileges=yes',
      ]) {
        expect(lines(name)).toContain(line);
      }
    },
  );

  it('smsbox starts behind bearerbox and the line, so it stops before them, and goes down with neither', () => {
    const smsbox = lines('kannel-smsbox.service');
    expect(smsbox).toContain('After=kannel-bearerbox.service neckline.service');
    expect(
      smsbox.filter((line) => /^(Requires|Requisite|BindsTo|PartOf|PropagatesStopTo|StopPropagatedFrom)=/.test(line)),
    ).toEqual([]);
    expect(read('neckline.service')).not.toMatch(/^(Requires|BindsTo|PartOf|Conflicts)=.*kannel/m);
  });

  it('both wait at their stop for longer than it takes', () => {
    const stop = (name: string): number => Number(/^TimeoutStopSec=(\d+)$/m.exec(read(name))?.[1]);
    // Seen: 10.6 to 11.1 s.
    expect(stop('kannel-bearerbox.service')).toBeGreaterThan(30);
    const [, wait, more] =
      /^ExecStop=.*wait-for-port\.sh 127\.0\.0\.1 8099 (\d+) (\d+)'$/m.exec(read('kannel-smsbox.service')) ?? [];
    expect(Number(more)).toBeGreaterThan(Number(settings.get('http-queue-delay')));
    expect(stop('kannel-smsbox.service')).toBeGreaterThan(Number(wait) + Number(more) + 10);
  });

  it('every file of the configuration lies where the units make a folder, and every log is rotated and opened anew', () => {
    const files = ['log-file', 'access-log', 'store-location', 'dlr-spool'];
    const named = [...read('kannel.conf').matchAll(/^([a-z-]+) = "(\/?[^"\n]*(?:\/|\.log)[^"\n]*)"$/gm)]
      .filter((found) => found[1] !== 'post-url' && found[1] !== 'access-log-format')
      .map((found) => [found[1]!, found[2]!] as const);
    expect([...new Set(named.map(([name]) => name))].sort()).toEqual([...files].sort());
    for (const [name, file] of named) {
      expect(file).toMatch(
        name.endsWith('log') || name === 'log-file'
          ? /^\/var\/log\/kannel\/[a-z-]+\.log$/
          : /^\/var\/lib\/kannel\/\w+$/,
      );
    }
    expect(read('kannel-bearerbox.service')).toMatch(/^StateDirectory=kannel kannel\/store kannel\/dlr$/m);
    for (const name of units) expect(read(name)).toMatch(/^LogsDirectory=kannel$/m);
    const rotation = read('kannel.logrotate');
    expect(rotation).toMatch(/^\/var\/log\/kannel\/\*\.log \{$/m);
    for (const name of units) expect(rotation).toContain(`--signal=HUP ${name}`);
    expect(Number(/\trotate (\d+)$/m.exec(rotation)?.[1])).toBeLessThan(31);
  });
});

describe('whoever waits for a port', () => {
  const script = path('wait-for-port.sh');
  const wait = (port: number, ...more: string[]): Promise<number | null> => {
    const child = spawn('bash', [script, '127.0.0.1', String(port), ...more], { stdio: 'ignore' });
    return new Promise((resolve) => child.once('close', resolve));
  };
  const listen = (port = 0): Promise<Server> => {
    const server = createServer((socket) => socket.destroy());
    return new Promise((resolve) => server.listen(port, '127.0.0.1', () => resolve(server)));
  };
  let server: Server | null = null;
  afterEach(() => void server?.close());

  it('goes on at once where it is open', async () => {
    server = await listen();
    const began = performance.now();
    expect(await wait((server.address() as AddressInfo).port, '5', '5')).toBe(0);
    expect(performance.now() - began).toBeLessThan(3000);
  });

  it('goes on when it opens, and a while later for what was held back meanwhile', async () => {
    const port = await freePort();
    const waiting = wait(port, '20', '1');
    // It has found the port shut by then.
    await new Promise((resolve) => setTimeout(resolve, 500));
    const opened = performance.now();
    server = await listen(port);
    expect(await waiting).toBe(0);
    expect(performance.now() - opened).toBeGreaterThan(1000);
  });

  it('gives up in the end, and says so', async () => {
    expect(await wait(await freePort(), '1')).toBe(1);
  });
});
