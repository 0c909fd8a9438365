/**
 * Sealing a file for somebody who is not here: to a public X25519 key whose private half is kept elsewhere, so that
 * whoever takes a backup, or the machine that makes it, cannot open it.
 *
 * Form: a line of magic; a line of JSON (what it is, the fresh public key of this file, for which key pair); pieces of
 * at most 64 KiB, each a length of four bytes, whose highest bit marks the last one, then the bytes under AES-256-GCM
 * and the tag of 16 bytes. The key comes from X25519 and HKDF-SHA-256 with the hash of both lines as salt; the nonce
 * is the number of the piece and the mark of the last, so that no piece can be lost, moved or cut off.
 */
import {
  createCipheriv,
  createDecipheriv,
  createHash,
  createPrivateKey,
  createPublicKey,
  diffieHellman,
  generateKeyPairSync,
  hkdfSync,
  type KeyObject,
} from 'node:crypto';
import { closeSync, fsyncSync, openSync, readSync, writeSync } from 'node:fs';
import { StoreError } from './store-error.ts';

const magic = 'neckline-backup-1\n';
const pieceBytes = 65_536;
const tagBytes = 16;
const lastMark = 0x8000_0000;
const headerAtMost = 4_096;

/** What stands in the clear at the head of a backup. */
export interface BackupHeader {
  /** When the copy was made, epoch ms. */
  readonly at: number;
  /** Fingerprint of the data key that its rows are sealed with; that key is not inside. */
  readonly dataKey: string;
  /** Fingerprint of the key pair it is for. */
  readonly to: string;
}

interface FullHeader extends BackupHeader {
  readonly from: string;
}

/** A fresh key pair as PEM texts: the public half for the line's machine, the private half for a safe place. */
export function makeBackupPair(): { readonly publicPem: string; readonly privatePem: string } {
  const { publicKey, privateKey } = generateKeyPairSync('x25519');
  return {
    publicPem: publicKey.export({ type: 'spki', format: 'pem' }).toString(),
    privatePem: privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
  };
}

/** Reads a public half. Throws `bad-backup-key`. */
export function readPublicKey(pem: string): KeyObject {
  return x25519(() => {
    if (pem.includes('PRIVATE')) throw new Error('private');
    return createPublicKey(pem);
  });
}

/** Reads a private half. Throws `bad-backup-key`. */
export function readPrivateKey(pem: string): KeyObject {
  return x25519(() => createPrivateKey(pem));
}

function x25519(read: () => KeyObject): KeyObject {
  let key: KeyObject;
  try {
    key = read();
  } catch {
    // The cause might hold bytes of the key.
    throw new StoreError('bad-backup-key', 'not readable');
  }
  if (key.asymmetricKeyType !== 'x25519') throw new StoreError('bad-backup-key', 'not X25519');
  return key;
}

/** Names a key pair, from either half. */
export function pairFingerprint(key: KeyObject): string {
  const half = key.type === 'private' ? createPublicKey(key) : key;
  return createHash('sha256')
    .update(half.export({ type: 'spki', format: 'der' }))
    .digest('base64url')
    .slice(0, 16);
}

function contentKey(mine: KeyObject, theirs: KeyObject, head: Buffer): Buffer {
  const shared = diffieHellman({ privateKey: mine, publicKey: theirs });
  const salt = createHash('sha256').update(head).digest();
  return Buffer.from(hkdfSync('sha256', shared, salt, 'neckline backup 1', 32));
}

function nonceOf(number: number, last: boolean): Buffer {
  const nonce = Buffer.alloc(12);
  nonce.writeUIntBE(number, 5, 6);
  nonce[11] = last ? 1 : 0;
  return nonce;
}

/**
 * Seals `from` into the new file `to`, durably. Returns the key of this one file, so that the caller can read it back
 * and compare; it is in memory only.
 */
export function sealFile(
  from: string,
  to: string,
  publicKey: KeyObject,
  about: Pick<BackupHeader, 'at' | 'dataKey'>,
): { readonly key: Buffer } {
  const fresh = generateKeyPairSync('x25519');
  const header: FullHeader = {
    ...about,
    to: pairFingerprint(publicKey),
    from: fresh.publicKey.export({ type: 'spki', format: 'der' }).toString('base64url'),
  };
  const head = Buffer.from(`${magic}${JSON.stringify(header)}\n`);
  const key = contentKey(fresh.privateKey, publicKey, head);
  const source = openSync(from, 'r');
  const target = openSync(to, 'wx', 0o600);
  try {
    writeAll(target, head);
    let piece = readPiece(source, pieceBytes);
    for (let number = 0; ; number += 1) {
      const next = piece.length < pieceBytes ? Buffer.alloc(0) : readPiece(source, pieceBytes);
      const last = next.length === 0;
      const cipher = createCipheriv('aes-256-gcm', key, nonceOf(number, last));
      const length = Buffer.alloc(4);
      length.writeUInt32BE((last ? lastMark : 0) + piece.length);
      writeAll(target, Buffer.concat([length, cipher.update(piece), cipher.final(), cipher.getAuthTag()]));
      if (last) break;
      piece = next;
    }
    fsyncSync(target);
    return { key };
  } finally {
    closeSync(source);
    closeSync(target);
  }
}

/**
 * Opens a backup into the new file `to`, durably, with the private half or with the file's own key. Throws
 * `bad-backup-key` when it is for another pair, `bad-backup` when a byte is not as it was written.
 */
export function openBackup(file: string, to: string, by: { privateKey: KeyObject } | { key: Buffer }): BackupHeader {
  const source = openSync(file, 'r');
  try {
    const { header, head } = headOf(source);
    let key: Buffer;
    if ('key' in by) key = by.key;
    else {
      if (pairFingerprint(by.privateKey) !== header.to) throw new StoreError('bad-backup-key', 'another key pair');
      key = contentKey(by.privateKey, freshHalf(header.from), head);
    }
    const target = openSync(to, 'wx', 0o600);
    try {
      openPieces(source, target, key);
      fsyncSync(target);
    } finally {
      closeSync(target);
    }
    return header;
  } finally {
    closeSync(source);
  }
}

function openPieces(source: number, target: number, key: Buffer): void {
  for (let number = 0; ; number += 1) {
    const length = readPiece(source, 4);
    if (length.length < 4) throw new StoreError('bad-backup', 'cut off');
    const mark = length.readUInt32BE();
    const last = mark >= lastMark;
    const size = last ? mark - lastMark : mark;
    if (size > pieceBytes) throw new StoreError('bad-backup', 'length');
    const bytes = readPiece(source, size + tagBytes);
    if (bytes.length < size + tagBytes) throw new StoreError('bad-backup', 'cut off');
    try {
      const decipher = createDecipheriv('aes-256-gcm', key, nonceOf(number, last));
      decipher.setAuthTag(bytes.subarray(size));
      writeAll(target, Buffer.concat([decipher.update(bytes.subarray(0, size)), decipher.final()]));
    } catch (cause) {
      throw new StoreError('bad-backup', `piece ${number}`, cause);
    }
    if (!last) continue;
    if (readPiece(source, 1).length > 0) throw new StoreError('bad-backup', 'goes on after its end');
    return;
  }
}

function headOf(source: number): { header: FullHeader; head: Buffer } {
  const start = Buffer.alloc(magic.length + headerAtMost);
  const read = readSync(source, start, 0, start.length, 0);
  const end = start.subarray(0, read).indexOf(0x0a, magic.length);
  if (start.toString('utf8', 0, magic.length) !== magic || end < 0) throw new StoreError('bad-backup', 'no backup');
  const head = start.subarray(0, end + 1);
  // Reading goes on after the head.
  readSync(source, Buffer.alloc(head.length), 0, head.length, null);
  return { header: readHeader(head.toString('utf8', magic.length)), head };
}

function readHeader(text: string): FullHeader {
  let read: Partial<Record<keyof FullHeader, unknown>> | null;
  try {
    read = JSON.parse(text);
  } catch (cause) {
    throw new StoreError('bad-backup', 'head', cause);
  }
  const { at, dataKey, to, from } = read ?? {};
  if (typeof at !== 'number' || typeof dataKey !== 'string' || typeof to !== 'string' || typeof from !== 'string') {
    throw new StoreError('bad-backup', 'head');
  }
  return { at, dataKey, to, from };
}

/** The public half that was made for one file. */
function freshHalf(from: string): KeyObject {
  try {
    const key = createPublicKey({ key: Buffer.from(from, 'base64url'), type: 'spki', format: 'der' });
    if (key.asymmetricKeyType === 'x25519') return key;
  } catch (cause) {
    throw new StoreError('bad-backup', 'head', cause);
  }
  throw new StoreError('bad-backup', 'head');
}

/** Up to `size` bytes from where the file is read; fewer only at its end. */
function readPiece(source: number, size: number): Buffer {
  const piece = Buffer.alloc(size);
  let filled = 0;
  while (filled < size) {
    const read = readSync(source, piece, filled, size - filled, null);
    if (read === 0) break;
    filled += read;
  }
  return piece.subarray(0, filled);
}

function writeAll(target: number, bytes: Buffer): void {
  for (let done = 0; done < bytes.length; ) done += writeSync(target, bytes, done);
}
