import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { SmsChannel, type SmsOptions } from '../../src/channels/sms/channel.ts';
import { kannel } from '../../src/channels/sms/kannel.ts';
import { LinkClock } from '../../src/channels/sms/link-clock.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';

/** One call that a gateway got. */
export interface GatewayCall {
  readonly headers: IncomingMessage['headers'];
  readonly body: string;
}

/** A gateway on loopback whose answers the test decides. */
export class GatewayServer {
  readonly calls: GatewayCall[] = [];
  answer: (response: ServerResponse) => void = (response) => response.writeHead(202).end('0: Accepted for delivery');
  private server: Server | null = null;
  url = '';

  async open(): Promise<this> {
    this.server = createServer((request, response) => {
      let body = '';
      request.on('data', (part: Buffer) => {
        body += part.toString('utf8');
      });
      request.on('end', () => {
        this.calls.push({ headers: request.headers, body });
        this.answer(response);
      });
    });
    await new Promise<void>((resolve) => this.server!.listen(0, '127.0.0.1', resolve));
    this.url = `http://127.0.0.1:${(this.server.address() as AddressInfo).port}/send`;
    return this;
  }

  /** Answers every call with this status. */
  says(status: number, body = ''): void {
    this.answer = (response) => response.writeHead(status).end(body);
  }

  close(): void {
    this.server?.closeAllConnections();
    this.server?.close();
  }
}

/** Clocks that a test moves: the time of day, and the one that nobody sets. */
export interface MovableClocks {
  now: number;
  steady: number;
}

/** The line's end of a gateway, as the reference gateway is spoken to. */
export function smsChannel(
  sendUrl: string,
  clocks: MovableClocks,
  other: Partial<SmsOptions> = {},
  logged: string[] = [],
): SmsChannel {
  return new SmsChannel({
    name: 'sms',
    label: 'SMS',
    mapping: kannel,
    account: { sendUrl, user: 'neckline', password: 'account-password', number: '1234' },
    prefixes: ['+000555'],
    secrets: ['new-secret', 'old-secret'],
    reportUrl: 'http://127.0.0.1:8099/sms/report',
    perSecond: null,
    perDay: null,
    dayOf: (at) => new Date(at).toISOString().slice(0, 10),
    linkClock: new LinkClock(60_000),
    clock: { now: () => clocks.now },
    steady: () => clocks.steady,
    log: { write: (_level, event, fields) => logged.push(`${event} ${JSON.stringify(fields ?? {})}`) },
    ...other,
  });
}

/** A text to somebody's phone, said at `at`. */
export function smsMessage(text: string, at: number, other: Partial<OutboundMessage> = {}): OutboundMessage {
  return {
    id: 'sms:abc:m1',
    to: { channel: 'sms', address: '+000555010001' },
    personId: 'w',
    caseId: null,
    at,
    lane: 'reply',
    text,
    segments: 1,
    encoding: 'GSM-7',
    flow: '-',
    step: '-',
    code: null,
    ask: null,
    validUntil: at + 90 * 60_000,
    notBefore: at,
    safety: true,
    ...other,
  };
}
