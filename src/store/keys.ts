/** The master key and what is derived from it. Losing the key file loses every name, address and text. */
import { createHmac, createSecretKey, hash, hkdfSync, type KeyObject, randomBytes } from 'node:crypto';
import { closeSync, fsyncSync, linkSync, mkdirSync, openSync, unlinkSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import type { PatientKey } from '../case/same-patient.ts';
import type { Address } from '../conversation/world.ts';
import { type KeyFile, keyFileText, readKeyFile } from './key-file.ts';
import type { SealKey } from './seal.ts';
import { StoreError } from './store-error.ts';
import { syncFolder } from './whole-file.ts';

/** Derived keys of one line; the master key itself is not kept. */
export interface KeyRing {
  /** For keyed hashes of addresses. */
  readonly address: KeyObject;
  /** For keyed hashes of who a patient is. */
  readonly patient: KeyObject;
  /** For keyed hashes of event keys: 64 hexadecimal digits. */
  readonly event: string;
  /** For the chain of each case's history. */
  readonly chain: Buffer;
  /** Seals the flow of each record, which its chain covers also when the case's own key is gone. */
  readonly flow: SealKey;
  /** Seals who signed what. */
  readonly signature: SealKey;
  /** For the sums over all rows: seals them, and goes into the hash of each row. */
  readonly witness: { readonly seal: SealKey; readonly rows: string };
  /** Wrap the data keys of cases and persons; version 1 is derived, later ones stand in the key file. */
  readonly wrapping: {
    /** The version that new data keys are wrapped with. */
    readonly current: number;
    readonly byVersion: ReadonlyMap<number, SealKey>;
  };
  /** Stands in the database: tells whether it was written with this key file. */
  readonly fingerprint: string;
}

const masterBytes = 32;

/** Derives the ring from 32 secret bytes and the wrapping keys that followed. The same bytes always give the same ring. */
export function keyRingOf(master: Uint8Array, later: KeyFile['wrapping'] = []): KeyRing {
  if (master.length !== masterBytes) throw new StoreError('bad-key-file', 'length');
  const bytes = (purpose: string) => Buffer.from(hkdfSync('sha256', master, '', `neckline ${purpose} 1`, masterBytes));
  const derived = (purpose: string) => createSecretKey(bytes(purpose));
  const check = derived('fingerprint');
  return {
    address: derived('address'),
    patient: derived('patient'),
    event: bytes('event').toString('hex'),
    chain: bytes('chain'),
    flow: bytes('flow'),
    signature: bytes('signature'),
    witness: { seal: bytes('witness'), rows: bytes('witnessed rows').toString('hex') },
    wrapping: {
      current: later.at(-1)?.version ?? 1,
      byVersion: new Map([[1, bytes('wrap')], ...later.map(({ version, key }) => [version, key] as const)]),
    },
    fingerprint: createHmac('sha256', check).update('fingerprint').digest('base64url'),
  };
}

/**
 * Reads the key file, or makes it (mode 0600, 32 random bytes) when there is none. The file appears complete or
 * not at all; of two processes that start together both get the key of the first.
 * Throws `bad-key-file` for a file that is not ours.
 */
export function openKeyRing(file: string): KeyRing {
  const found = readKeyFile(file);
  if (found) return keyRingOf(found.master, found.wrapping);
  mkdirSync(dirname(file), { recursive: true, mode: 0o700 });
  const fresh = `${file}.${process.pid}-${randomBytes(4).toString('hex')}`;
  const handle = openSync(fresh, 'wx', 0o600);
  writeSync(handle, keyFileText({ master: randomBytes(masterBytes), wrapping: [], rotating: false }));
  fsyncSync(handle);
  closeSync(handle);
  try {
    linkSync(fresh, file);
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code !== 'EEXIST') throw cause;
  } finally {
    unlinkSync(fresh);
  }
  syncFolder(dirname(file));
  const made = readKeyFile(file);
  if (!made) throw new StoreError('bad-key-file', 'vanished');
  return keyRingOf(made.master, made.wrapping);
}

/**
 * The keys of a database that was written with some before: a fresh file in the place of one that is gone would hide that
 * nothing opens without the old one. Throws `no-key-file`, `bad-key-file`.
 */
export function keyRingOfFile(file: string): KeyRing {
  const found = readKeyFile(file);
  if (!found) throw new StoreError('no-key-file', file);
  return keyRingOf(found.master, found.wrapping);
}

/** Keyed hash under which an address is found again; the address cannot be read back from it. */
export function addressHash(ring: KeyRing, programmeId: string, address: Address): Buffer {
  return createHmac('sha256', ring.address)
    .update(JSON.stringify(['address', programmeId, address.channel, address.address]))
    .digest();
}

/** Keyed hash by which texts about the same to one address are known; neither can be read back from it. */
export function subjectHash(ring: KeyRing, programmeId: string, to: Address, about: readonly string[]): string {
  return createHmac('sha256', ring.address)
    .update(JSON.stringify(['subject', programmeId, to.channel, to.address, ...about]))
    .digest('base64url')
    .slice(0, 22);
}

/** Keyed hash under which the cases of a site with these initials and this sex are found; neither can be read back from it. */
export function patientMark(ring: KeyRing, programmeId: string, { siteId, initials, sex }: PatientKey): Buffer {
  return createHmac('sha256', ring.patient)
    .update(JSON.stringify(['patient', programmeId, siteId, initials, sex]))
    .digest();
}

/**
 * 16 bytes that stand for an event key, which may itself hold a sender's number: SHA-256 over a secret and the key,
 * cut short, so that nothing can be hung on to it.
 */
export function eventKeyHash(ring: KeyRing, programmeId: string, key: string): Buffer {
  return Buffer.from(hash('sha256', `${ring.event}${JSON.stringify([programmeId, key])}`, 'hex').slice(0, 32), 'hex');
}

export { keyPlaceFault } from './key-place.ts';
