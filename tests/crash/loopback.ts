import { request } from 'node:http';
import type { Channel, OutboundMessage, SendResult } from '../../src/line/ports.ts';
import type { KillPoint } from './orders.ts';

/** Pause before a gateway that refused is asked again, line ms. */
const pauseMs = 2_000;

/** Sends over HTTP to a gateway that the test keeps on this machine. */
export class LoopbackChannel implements Channel {
  readonly name = 'sms';
  readonly maxText = 0;
  readonly buttons = false;
  readonly images = false;
  readonly reports = false;
  private readonly port: number;
  private readonly pass: (point: KillPoint) => void;
  private readonly answerWithinMs: number;

  constructor(port: number, pass: (point: KillPoint) => void, answerWithinMs: number) {
    this.port = port;
    this.pass = pass;
    this.answerWithinMs = answerWithinMs;
  }

  send(message: OutboundMessage): Promise<SendResult> {
    this.pass('sending');
    return new Promise((resolve) => {
      const later = (why: string): void => resolve({ kind: 'later', waitMs: pauseMs, why });
      const body = JSON.stringify({ id: message.id, to: message.to.address, text: message.text });
      const asked = request(
        {
          port: this.port,
          host: '127.0.0.1',
          method: 'POST',
          path: '/send',
          agent: false,
          timeout: this.answerWithinMs,
        },
        (response) => {
          response.resume();
          response.once('end', () => {
            this.pass('taken');
            const status = response.statusCode ?? 0;
            if (status === 202) resolve({ kind: 'sent' });
            else if (status === 503) later('http-503');
            else resolve({ kind: 'unsure', why: `http-${status}` });
          });
          response.once('error', () => resolve({ kind: 'unsure', why: 'cut' }));
        },
      );
      asked.once('timeout', () => asked.destroy(new Error('no-answer')));
      asked.once('error', (error: NodeJS.ErrnoException) => {
        if (error.code === 'ECONNREFUSED') later('ECONNREFUSED');
        else resolve({ kind: 'unsure', why: error.code ?? error.message });
      });
      asked.end(body);
    });
  }
}
