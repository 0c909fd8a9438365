/** What the doors of all channels share. */
import type { IncomingMessage, ServerResponse } from 'node:http';

/** Answers a call and says so; false = not its path. */
export type Door = (request: IncomingMessage, response: ServerResponse) => Promise<boolean>;

/** What a caller is answered who shows wrong secrets over and over. */
export const tooMany = 429;

/** What a proxy says of itself, and of whom it speaks for. */
const passedOn = ['forwarded', 'via', 'x-forwarded-for', 'x-forwarded-host', 'x-forwarded-proto', 'x-real-ip'] as const;
const ownNames = /^(127\.0\.0\.1|localhost|\[::1\])(:\d{1,5})?$/;

/**
 * True for a program of this machine that calls by a name of this machine. Another name was made to point here, and what
 * a proxy passes on comes from anywhere, though the proxy stands here.
 */
export function isOfThisMachine(request: IncomingMessage): boolean {
  const { headers } = request;
  return ownNames.test(headers.host ?? '') && passedOn.every((name) => headers[name] === undefined);
}

/** How the line does is told to programs of this machine only. */
export function isLoopback(request: IncomingMessage): boolean {
  if (!isOfThisMachine(request)) return false;
  const from = request.socket.remoteAddress ?? '';
  return from === '127.0.0.1' || from === '::1' || from === '::ffff:127.0.0.1';
}

/** A body, or as much of it as was wanted. `whole`: nothing of it is left out. */
export interface BodyRead {
  readonly body: Buffer;
  readonly whole: boolean;
}

/**
 * Reads a body of at most `atMost` bytes. What is longer is read on to `drainedAtMost`, without being kept, so that its
 * sender can be told so; beyond that the connection is left. Rejects when the caller goes away.
 */
export async function readBody(request: IncomingMessage, atMost: number, drainedAtMost = atMost): Promise<BodyRead> {
  const parts: Buffer[] = [];
  let size = 0;
  for await (const part of request as AsyncIterable<Buffer>) {
    size += part.length;
    if (size <= atMost) parts.push(part);
    if (size > drainedAtMost) break;
  }
  return { body: Buffer.concat(parts), whole: size <= atMost };
}
