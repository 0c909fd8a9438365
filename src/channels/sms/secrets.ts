/** Shared secrets of the gateway, and references that nobody can guess. */
import { createHash, createHmac, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/** Valid secrets, the newest first: during a change both are taken. */
export function readSecrets(text: string): readonly string[] {
  return text.split(/[\s,]+/).filter((one) => one !== '');
}

/** Compares in constant time with every valid secret. */
export function isSecret(given: string | null, valid: readonly string[]): boolean {
  if (given === null || given === '') return false;
  const own = digest(given);
  let found = false;
  for (const one of valid) found = timingSafeEqual(own, digest(one)) || found;
  return found;
}

/** The secret that a call shows before its body: a header, or basic authentication (any user). Null = none. */
export function secretInHead(request: IncomingMessage): string | null {
  const header = request.headers['x-neckline-secret'];
  if (typeof header === 'string') return header;
  const basic = /^Basic ([A-Za-z0-9+/=]+)$/.exec(request.headers.authorization ?? '');
  if (basic) {
    const pair = Buffer.from(basic[1]!, 'base64').toString('utf8');
    return pair.slice(pair.indexOf(':') + 1);
  }
  return null;
}

const macOf = (id: string, secret: string): string =>
  createHmac('sha256', secret).update(`report:${id}`).digest('base64url').slice(0, 22);

/** The reference under which the gateway reports on a text: its id and 128 bits that only we can make. */
export function referenceOf(id: string, secrets: readonly string[]): string {
  return `${Buffer.from(id, 'utf8').toString('base64url')}.${macOf(id, secrets[0] ?? '')}`;
}

/** The id of a text, or null for a reference that we did not make. */
export function idOfReference(reference: string, secrets: readonly string[]): string | null {
  const found = /^([\w-]{1,400})\.([\w-]{22})$/.exec(reference);
  if (!found) return null;
  const id = Buffer.from(found[1]!, 'base64url').toString('utf8');
  return isSecret(
    found[2]!,
    secrets.map((one) => macOf(id, one)),
  )
    ? id
    : null;
}
