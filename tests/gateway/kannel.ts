/** A real gateway on loopback with its fake network, for tests. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

const fake = '/usr/lib/kannel/test/fakesmsc';

/** False where the Debian packages kannel and kannel-extras are not installed. */
export const hasKannel: boolean =
  existsSync('/usr/sbin/bearerbox') && existsSync('/usr/sbin/smsbox') && existsSync(fake);

export interface Ports {
  readonly admin: number;
  readonly boxes: number;
  readonly send: number;
  readonly network: number;
  readonly line: number;
}

/** Waits until `ready` says so; throws with `what` after `ms`. */
export async function until(
  ready: () => boolean | Promise<boolean>,
  what: string | (() => string),
  ms = 30_000,
): Promise<void> {
  for (const end = Date.now() + ms; Date.now() < end; await sleep(50)) if (await ready()) return;
  throw new Error(`waited in vain for ${typeof what === 'string' ? what : what()}`);
}

function accepts(port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1');
    socket.once('connect', () => {
      socket.destroy();
      resolve(true);
    });
    socket.once('error', () => resolve(false));
  });
}

/** One text that a phone received. */
export interface Received {
  readonly to: string;
  readonly text: string;
}

/** The shipped configuration on other ports, and the fake network beside it. */
export class Kannel {
  readonly ports: Ports;
  readonly received: Received[] = [];
  private readonly folder: string;
  private readonly running: ChildProcess[] = [];
  private readonly boxes = new Map<string, ChildProcess>();
  private network: ChildProcess | null = null;
  private rest = '';
  private typed: Promise<void> = Promise.resolve();
  private readonly parts = new Map<string, string[]>();
  /** Segments that reached a phone. */
  segments = 0;

  constructor(folder: string, ports: Ports, secret: string, password: string) {
    this.folder = folder;
    this.ports = ports;
    for (const one of ['store', 'dlr']) mkdirSync(join(folder, 'run', one), { recursive: true });
    const shipped = readFileSync(new URL('../../deploy/kannel.conf', import.meta.url), 'utf8');
    const own = shipped
      .replaceAll(/\/var\/(?:log|lib)\/kannel/g, join(folder, 'run'))
      .replace('throughput = 5', 'throughput = 50')
      .replace('admin-port = 13000', `admin-port = ${ports.admin}`)
      .replace('smsbox-port = 13001', `smsbox-port = ${ports.boxes}`)
      .replace('sendsms-port = 13013', `sendsms-port = ${ports.send}`)
      .replace('port = 10000', `port = ${ports.network}`)
      .replace('127.0.0.1:8099', `127.0.0.1:${ports.line}`)
      .replace('http-queue-delay = 5', 'http-queue-delay = 1')
      .replaceAll('change-secret', secret)
      .replaceAll('change-sendsms', password);
    writeFileSync(join(folder, 'kannel.conf'), own);
  }

  async start(): Promise<void> {
    this.box('/usr/sbin/bearerbox');
    await until(() => accepts(this.ports.boxes), 'bearerbox');
    this.box('/usr/sbin/smsbox');
    await until(() => accepts(this.ports.send), 'smsbox');
    // Lines on its input are texts of phones; it ends with bearerbox.
    const network = spawn(fake, ['-H', '127.0.0.1', '-r', String(this.ports.network), '-i', '0.05'], {
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    this.network = network;
    const read = (part: Buffer): void => this.read(part.toString('utf8'));
    network.stdout.on('data', read);
    network.stderr.on('data', read);
    network.stdin.on('error', () => undefined);
    // A probe of this port would be taken for a network.
    await sleep(1500);
  }

  private box(program: string): void {
    const child = spawn(program, ['-v', '4', 'kannel.conf'], {
      cwd: this.folder,
      stdio: ['ignore', 'ignore', 'ignore'],
    });
    this.running.push(child);
    this.boxes.set(program.endsWith('smsbox') ? 'smsbox' : 'bearerbox', child);
  }

  /** Signals one of the boxes alone. */
  signal(box: 'smsbox' | 'bearerbox', signal: NodeJS.Signals): void {
    this.boxes.get(box)?.kill(signal);
  }

  /** Resolves when a box has ended. */
  async ended(box: 'smsbox' | 'bearerbox'): Promise<void> {
    const child = this.boxes.get(box);
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    await new Promise((resolve) => child.once('exit', resolve));
  }

  /** A phone sends a text. */
  send(from: string, text: string): void {
    this.type(`${from} 1234 text ${text}`);
  }

  /** The fake network looks at one line each time that it is given some: a second one beside it would lie there. */
  private type(line: string): void {
    this.typed = this.typed.then(async () => {
      this.network?.stdin?.write(`${line}\n`);
      await sleep(150);
    });
  }

  /** A phone's long text: one of its parts comes over the network. */
  sendPart(from: string, part: { reference: number; number: number; total: number }, text: string): void {
    const octets = [5, 0, 3, part.reference, part.total, part.number];
    const header = octets.map((one) => `%${one.toString(16).padStart(2, '0')}`).join('');
    this.type(`${from} 1234 udh-text ${header} ${text}`);
  }

  private read(part: string): void {
    this.rest += part;
    const found = /Got message \d+: <(\S+) (\S+) (text|ucs-2|udh) ([\s\S]*?)>\n/g;
    let last = 0;
    for (let one = found.exec(this.rest); one; one = found.exec(this.rest)) {
      last = found.lastIndex;
      this.receive(one[2]!, one[3] === 'udh', one[4]!);
    }
    this.rest = this.rest.slice(last);
  }

  /** The phone joins the parts of a long text, as real ones do. */
  private receive(to: string, isPart: boolean, shown: string): void {
    this.segments += 1;
    const part = isPart ? /^%05%00%03(%..)(%..)(%..) data (.*)$/s.exec(shown) : null;
    if (!part) {
      this.received.push({ to, text: shown });
      return;
    }
    const key = `${to} ${part[1]} ${part[2]}`;
    const parts = this.parts.get(key) ?? [];
    parts[Number.parseInt(part[3]!.slice(1), 16) - 1] = unescape(part[4]!.replace(/\+/g, ' '));
    this.parts.set(key, parts);
    const total = Number.parseInt(part[2]!.slice(1), 16);
    if (parts.filter((one) => one !== undefined).length < total) return;
    this.parts.delete(key);
    this.received.push({ to, text: parts.join('') });
  }

  /** Ends both boxes and the network: SIGTERM, or at once. */
  async stop(signal: 'SIGTERM' | 'SIGKILL' = 'SIGTERM'): Promise<void> {
    const all = [...this.running.reverse(), ...(this.network ? [this.network] : [])];
    this.running.length = 0;
    this.network = null;
    for (const one of all) {
      const ended = new Promise((resolve) => one.once('exit', resolve));
      if (one.exitCode !== null || one.signalCode !== null) continue;
      one.kill(signal);
      await Promise.race([ended, sleep(8000).then(() => one.kill('SIGKILL'))]);
    }
  }
}
