/** What the doors of all channels share. */
import type { IncomingMessage, ServerResponse } from 'node:http';

/** Answers a call and says so; false = not its path. */
export type Door = (request: IncomingMessage, response: ServerResponse) => Promise<boolean>;

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
