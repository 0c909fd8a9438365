/** One life of the line: a process from its start to its death. */
import { type ChildProcess, spawn } from 'node:child_process';
import { request } from 'node:http';
import type { Change, Orders, State } from './orders.ts';

/** A busy machine is no dead line, real ms. */
const answerWithinMs = 30_000;

export class Life {
  readonly ended: Promise<void>;
  /** What it logged at warning or error. */
  readonly logged: string[] = [];
  private readonly child: ChildProcess;
  private alive = true;
  private readonly listening: Promise<number | null>;

  constructor(nodeArguments: readonly string[], orders: Orders, shell: string | null = null, environment = {}) {
    const env = { ...process.env, CRASH_ROOT: orders.root, CRASH_ORDERS: JSON.stringify(orders), ...environment };
    const stdio = ['ignore', 'pipe', 'pipe'] as const;
    this.child =
      shell === null
        ? spawn(process.execPath, nodeArguments, { env, stdio: [...stdio] })
        : spawn('bash', ['-c', `${shell}; exec "$0" "$@"`, process.execPath, ...nodeArguments], {
            env,
            stdio: [...stdio],
          });
    this.child.stderr!.on('data', (chunk: Buffer) => this.logged.push(chunk.toString()));
    this.ended = new Promise((resolve) => {
      this.child.once('close', () => {
        this.alive = false;
        resolve();
      });
    });
    this.listening = new Promise((resolve) => {
      this.child.stdout!.on('data', (chunk: Buffer) => {
        const port = /^port (\d+)$/m.exec(chunk.toString())?.[1];
        if (port) resolve(Number(port));
      });
      void this.ended.then(() => resolve(null));
    });
  }

  /** The port it listens on; null = it died before. */
  port(): Promise<number | null> {
    return this.listening;
  }

  isAlive(): boolean {
    return this.alive;
  }

  kill(signal: 'SIGKILL' | 'SIGTERM' = 'SIGKILL'): void {
    this.child.kill(signal);
  }

  /** Hands a text to the line as a gateway does. The status; null = no answer. */
  async hear(from: string, id: string, text: string): Promise<number | null> {
    const query = new URLSearchParams({ from, id }).toString();
    return (await this.call(`/sms/in?${query}`, text))?.status ?? null;
  }

  async state(change: Change | null = null): Promise<State | null> {
    const answer = change ? await this.call('/change', JSON.stringify(change)) : await this.call('/state', '');
    return answer?.status === 200 ? (JSON.parse(answer.body) as State) : null;
  }

  private async call(path: string, body: string): Promise<{ status: number; body: string } | null> {
    const port = await this.listening;
    if (port === null || !this.alive) return null;
    return new Promise((resolve) => {
      const none = (): void => resolve(null);
      const asked = request(
        { host: '127.0.0.1', port, path, method: 'POST', agent: false, timeout: answerWithinMs },
        (response) => {
          const parts: Buffer[] = [];
          response.on('data', (part: Buffer) => parts.push(part));
          response.on('error', none);
          response.on('aborted', none);
          response.on('end', () => {
            resolve({ status: response.statusCode ?? 0, body: Buffer.concat(parts).toString('utf8') });
          });
        },
      );
      asked.on('timeout', () => asked.destroy());
      asked.on('error', none);
      asked.on('close', none);
      asked.end(body);
    });
  }
}
