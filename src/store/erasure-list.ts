/**
 * The list of erasures that travels beside backups: a backup from before an erasure still holds the key, so that who
 * restores it must erase again. Ids only, and sealed against additions by the data key.
 */
import { createHmac } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import type { KeyRing } from './keys.ts';
import { StoreError } from './store-error.ts';
import { writeWhole } from './whole-file.ts';

export interface Erasure {
  /** `case:<id>` or `person:<id>`. */
  readonly keyId: string;
  readonly programmeId: string;
  readonly at: number;
  readonly reason: string;
}

/** Name of the list in the folder of the backups. */
export const erasureListName = 'erasures.list';

function sealOf(ring: KeyRing, body: string): string {
  return createHmac('sha256', ring.chain).update(`erasures\n${body}`).digest('base64url');
}

/** Writes the list whole, by key. */
export function writeErasureList(file: string, ring: KeyRing, erasures: readonly Erasure[]): void {
  const order = [...erasures].sort((a, b) => (a.keyId < b.keyId ? -1 : 1));
  const body = order.map((one) => `${JSON.stringify(one)}\n`).join('');
  writeWhole(file, `${body}${JSON.stringify({ seal: sealOf(ring, body) })}\n`);
}

/** Reads the list; empty when there is none. Throws `bad-erasure-list` when it is not as this line wrote it. */
export function readErasureList(file: string, ring: KeyRing): readonly Erasure[] {
  if (!existsSync(file)) return [];
  const [torn, ...backwards] = readFileSync(file, 'utf8').split('\n').reverse();
  if (torn !== '') throw new StoreError('bad-erasure-list', 'end');
  const lines = backwards.reverse();
  const body = lines
    .slice(0, -1)
    .map((line) => `${line}\n`)
    .join('');
  try {
    const { seal } = JSON.parse(lines.at(-1) ?? '') as { seal?: unknown };
    if (seal !== sealOf(ring, body)) throw new Error('seal');
    return lines.slice(0, -1).map((line) => JSON.parse(line) as Erasure);
  } catch (cause) {
    throw new StoreError('bad-erasure-list', 'seal', cause);
  }
}

/** Both lists as one; an erasure that stands in both stands once. */
export function mergeErasures(one: readonly Erasure[], other: readonly Erasure[]): readonly Erasure[] {
  return [...new Map([...one, ...other].map((erasure) => [erasure.keyId, erasure])).values()];
}
