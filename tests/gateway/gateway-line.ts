import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { diskFolder } from '../support/disk-folder.ts';
import { freePort } from '../support/free-port.ts';
import { GatewayPhones } from './gateway-phones.ts';
import { Kannel, until } from './kannel.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
export const main = join(root, 'dist/main.js');
export const secret = 'shared-secret-of-this-test';
export const phones = { w: '+000555010001', d: '+000555010002', l: '+000555010003', c: '+000555010004' } as const;
export type Phone = keyof typeof phones;

/**
 * The real Kannel of Debian 12 with the shipped configuration and its fake network, and the built program as a process
 * of its own with four people. Durations of the programme are shortened by `times`, nothing else is.
 */
export class GatewayLine extends GatewayPhones<Phone> {
  readonly folder: string;
  readonly settings: Readonly<Record<string, string>>;
  private line: ChildProcess | null = null;

  private constructor(folder: string, kannel: Kannel, settings: Readonly<Record<string, string>>) {
    super(kannel, phones);
    this.folder = folder;
    this.settings = settings;
  }

  static async open(times: Readonly<Record<string, string>>): Promise<GatewayLine> {
    const folder = diskFolder('neckline-gateway-');
    const [admin, boxes, send] = [await freePort(), await freePort(), await freePort()];
    const [network, own] = [await freePort(), await freePort()];
    const kannel = new Kannel(folder, { admin, boxes, send, network, line: own }, secret, 'account-password');
    writeFileSync(join(folder, 'programme.yaml'), programmeWith(times));
    writeFileSync(
      join(folder, 'roster.csv'),
      [
        'name,roles,channel,address,site,locale',
        `Ada Lumo,worker,sms,${phones.w},oruma,en`,
        `Dr Tano,doctor,sms,${phones.d},oruma,en`,
        `Lio Marek,lab,sms,${phones.l},velin,en`,
        `Sela Rune,coordinator,sms,${phones.c},oruma,en`,
      ].join('\n'),
    );
    const settings = {
      PATH: process.env.PATH ?? '',
      NECKLINE_DATA: join(folder, 'data'),
      NECKLINE_PROGRAMME: join(folder, 'programme.yaml'),
      NECKLINE_KEY_FILE: join(folder, 'line.key'),
      NECKLINE_HTTP_PORT: String(own),
      NECKLINE_SMS_GATEWAY: 'kannel',
      NECKLINE_SMS_SEND_URL: `http://127.0.0.1:${send}/cgi-bin/sendsms`,
      NECKLINE_SMS_USER: 'neckline',
      NECKLINE_SMS_PASSWORD: 'account-password',
      NECKLINE_SMS_NUMBER: '1234',
      NECKLINE_SMS_SECRET: secret,
      NECKLINE_SMS_PREFIXES: '+000555',
    };
    const imported = spawnSync(process.execPath, [main, 'roster', 'import', 'roster.csv'], {
      cwd: folder,
      env: settings,
    });
    expect(imported.stdout.toString()).toContain('4 new, 0 changed');
    const opened = new GatewayLine(folder, kannel, settings);
    await kannel.start();
    await opened.start();
    return opened;
  }

  async start(): Promise<void> {
    const child = spawn(process.execPath, [main, 'start', '--trial'], {
      cwd: this.folder,
      env: this.settings,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.line = child;
    let out = '';
    child.stdout.on('data', (part: Buffer) => {
      out += part.toString('utf8');
    });
    child.stderr.on('data', (part: Buffer) => {
      this.written += part.toString('utf8');
    });
    await until(() => out.includes('serves sms'), 'the line to start');
  }

  async end(signal: 'SIGTERM' | 'SIGKILL'): Promise<void> {
    const child = this.line!;
    const ended = new Promise((resolve) => child.once('exit', resolve));
    child.kill(signal);
    await ended;
    this.line = null;
  }

  async close(): Promise<void> {
    if (this.line) await this.end('SIGKILL');
    await this.kannel.stop('SIGKILL');
    rmSync(this.folder, { recursive: true, force: true });
  }

  health(): Promise<Response> {
    return fetch(`http://127.0.0.1:${this.kannel.ports.line}/health`);
  }
}

function programmeWith(times: Readonly<Record<string, string>>): string {
  const shipped = readFileSync(join(root, 'flows/programme.yaml'), 'utf8');
  return withTimes(shipped.replace('voiceNumber: "bench:voice"', 'voiceNumber: "+000 555 010 099"'), times);
}

/** A programme's file with durations of these names, texted day and night. */
export function withTimes(programme: string, times: Readonly<Record<string, string>>): string {
  const always = programme.replace(/^daytime: .*$/m, 'daytime: { from: 0, to: 24 }');
  return Object.entries(times).reduce((text, [name, time]) => {
    const pattern = new RegExp(`^( {2}${name}: )\\d+\\w`, 'gm');
    expect(text).toMatch(pattern);
    return text.replace(pattern, (_, before: string) => `${before}${time}`);
  }, always);
}
