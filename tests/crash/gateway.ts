/** The gateway that the line sends to: lives in the test, so that it outlasts every kill. */
import { createServer, type Server, type ServerResponse } from 'node:http';

/**
 * What the gateway does with a text: takes it; refuses it for now; takes it and never answers; takes it and answers
 * what is no answer; takes it, says so and loses it.
 */
export type Manner = 'take' | 'refuse' | 'hang' | 'garbage' | 'forget';

export interface Taken {
  readonly id: string;
  readonly to: string;
  readonly text: string;
  /** Which life of the line sent it. */
  readonly life: number;
}

export class Gateway {
  /** Every text the gateway took, in order. */
  readonly taken: Taken[] = [];
  manner: (to: string) => Manner = () => 'take';
  life = 0;
  /** Called for each text that reaches its phone. */
  arrive: (taken: Taken) => void = () => undefined;
  private readonly server: Server;
  private readonly hanging = new Set<ServerResponse>();
  port = 0;

  constructor() {
    this.server = createServer((request, response) => {
      const parts: Buffer[] = [];
      request.on('data', (part: Buffer) => parts.push(part));
      request.on('error', () => undefined);
      request.on('end', () => this.take(Buffer.concat(parts).toString('utf8'), response));
    });
  }

  private take(body: string, response: ServerResponse): void {
    const { id, to, text } = JSON.parse(body) as { id: string; to: string; text: string };
    const manner = this.manner(to);
    if (manner === 'refuse') {
      response.writeHead(503).end();
      return;
    }
    const taken = { id, to, text, life: this.life };
    this.taken.push(taken);
    if (manner !== 'forget') this.arrive(taken);
    if (manner === 'hang') this.hanging.add(response);
    else if (manner === 'garbage') response.writeHead(299).end('\u0000<html>proxy</html>');
    else response.writeHead(202).end();
  }

  async open(): Promise<void> {
    await new Promise<void>((resolve) => this.server.listen(0, '127.0.0.1', resolve));
    this.port = (this.server.address() as { port: number }).port;
  }

  async close(): Promise<void> {
    for (const response of this.hanging) response.destroy();
    this.server.closeAllConnections();
    await new Promise((resolve) => this.server.close(resolve));
  }
}
