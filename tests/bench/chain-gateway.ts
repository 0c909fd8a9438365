/** The gateway of the chain: takes every text at once, and reports it delivered a moment later. */
import { Agent, createServer, request, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { chainSecret } from './chain-line.ts';

/** From taking a text to its delivery report, ms. */
const reportAfterMs = 200;

export class ChainGateway {
  /** Called when a text of the line was taken. */
  taken: (to: string, text: string) => void = () => undefined;
  /** The doors of the line's processes: each call goes to the next one. */
  linePorts: readonly number[] = [];
  port = 0;
  private readonly agent = new Agent({ keepAlive: true, maxSockets: 100 });
  private readonly server: Server;
  private readonly timers = new Set<NodeJS.Timeout>();
  private ids = 0;
  private calls = 0;

  constructor() {
    this.server = createServer((call, response) => {
      const parts: Buffer[] = [];
      call.on('data', (part: Buffer) => parts.push(part));
      call.on('end', () => {
        response.writeHead(202, { 'content-length': '0' }).end();
        const { to, text, ref } = JSON.parse(Buffer.concat(parts).toString('utf8'));
        this.taken(to, text);
        this.reportLater(ref);
      });
    });
  }

  async open(): Promise<void> {
    await new Promise<void>((resolve) => this.server.listen(0, '127.0.0.1', resolve));
    this.port = (this.server.address() as AddressInfo).port;
  }

  /** Brings a text of a phone to the line. Gives the status of the answer, 0 for none. */
  bring(from: string, text: string): Promise<number> {
    this.ids += 1;
    const content = { sender: from, recipient: '1234', messageId: `bench-${this.ids}`, content: text };
    return this.post('/sms/in', { ...content, receivedAt: String(Date.now()) });
  }

  async close(): Promise<void> {
    for (const timer of this.timers) clearTimeout(timer);
    this.agent.destroy();
    this.server.closeAllConnections();
    await new Promise((resolve) => this.server.close(resolve));
  }

  private reportLater(reference: string): void {
    const timer = setTimeout(() => {
      this.timers.delete(timer);
      void this.post('/sms/report', { ref: reference, status: 'DELIVERED' });
    }, reportAfterMs);
    this.timers.add(timer);
  }

  private nextPort(): number {
    this.calls += 1;
    return this.linePorts[this.calls % this.linePorts.length]!;
  }

  private post(path: string, fields: Readonly<Record<string, string>>): Promise<number> {
    return new Promise((resolve) => {
      const headers = {
        'content-type': 'application/x-www-form-urlencoded',
        'x-neckline-secret': chainSecret,
      };
      const call = request(
        { port: this.nextPort(), host: '127.0.0.1', method: 'POST', path, headers, agent: this.agent },
        (response) => {
          response.resume();
          response.once('end', () => resolve(response.statusCode ?? 0));
        },
      );
      call.once('error', () => resolve(0));
      call.end(new URLSearchParams(fields).toString());
    });
  }
}
