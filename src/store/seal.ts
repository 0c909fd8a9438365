/** Sealing of texts and keys: AES-256-GCM, bound to the row they stand in. */
import { createCipheriv, createDecipheriv, randomFillSync } from 'node:crypto';
import { StoreError } from './store-error.ts';

/** A 256-bit key. */
export type SealKey = Buffer;

const formatByte = 1;
const ivBytes = 12;
const tagBytes = 16;
/** A shorter tag would be easier to guess: none is taken. */
const gcm = { authTagLength: tagBytes } as const;
const headBytes = 1 + ivBytes + tagBytes;

const pool = Buffer.alloc(ivBytes * 512);
let used = pool.length;

/** Fresh bytes from a pool: one call to the system for many seals. */
function freshIv(): Buffer {
  if (used === pool.length) {
    randomFillSync(pool);
    used = 0;
  }
  used += ivBytes;
  return pool.subarray(used - ivBytes, used);
}

/**
 * Seals `plain` under `key`. `bound` names the row; bytes moved to another row do not open there.
 * The length of the result is the length of the plain bytes + 29.
 */
export function seal(key: SealKey, plain: string | Uint8Array, bound: string): Buffer {
  const iv = freshIv();
  const cipher = createCipheriv('aes-256-gcm', key, iv);
  cipher.setAAD(Buffer.from(bound));
  const body = typeof plain === 'string' ? cipher.update(plain, 'utf8') : cipher.update(plain);
  cipher.final();
  const sealed = Buffer.allocUnsafe(headBytes + body.length);
  sealed[0] = formatByte;
  iv.copy(sealed, 1);
  cipher.getAuthTag().copy(sealed, 1 + ivBytes);
  body.copy(sealed, headBytes);
  return sealed;
}

/** Opens what `seal` made. Throws `unreadable` when key, row or bytes are not the same. */
export function openSealed(key: SealKey, sealed: Uint8Array, bound: string): Buffer {
  try {
    if (sealed[0] !== formatByte || sealed.length < headBytes) throw new Error('format');
    const decipher = createDecipheriv('aes-256-gcm', key, sealed.subarray(1, 1 + ivBytes), gcm);
    decipher.setAAD(Buffer.from(bound));
    decipher.setAuthTag(sealed.subarray(1 + ivBytes, headBytes));
    const body = decipher.update(sealed.subarray(headBytes));
    decipher.final();
    return body;
  } catch (cause) {
    throw new StoreError('unreadable', bound, cause);
  }
}

/** Seals a value as JSON text. */
export function sealJson(key: SealKey, value: unknown, bound: string): Buffer {
  return seal(key, JSON.stringify(value), bound);
}

/** Opens what `sealJson` made; the caller names the type it sealed. */
export function openJson<T>(key: SealKey, sealed: Uint8Array, bound: string): T {
  return JSON.parse(openSealed(key, sealed, bound).toString('utf8')) as T;
}
