/**
 * A witness of all rows: for each table one sum over keyed hashes of its rows, moved along by every write in its own
 * transaction and kept sealed. A row that was changed, added, taken away or put back as it once was by anybody without the
 * key leaves a sum that fits no more. The sum says which table, not which row.
 */
import { hash } from 'node:crypto';
import type { SealKey } from './seal.ts';

/** What the sums are sealed, and the rows hashed with. */
export interface WitnessKeys {
  readonly seal: SealKey;
  readonly rows: string;
}

/** What stands in a column, as both engines give it. */
export type Cell = string | number | bigint | Buffer | null;

const sumBytes = 32;

/** Keyed hash of one row: SHA-256 over a secret, the table's name and its cells with their kinds and lengths. */
export function rowHash(secret: string, table: string, cells: readonly Cell[]): Buffer {
  let text = `${secret}${table}`;
  for (const cell of cells) text += cellText(cell);
  return hash('sha256', text, 'buffer');
}

function cellText(cell: Cell): string {
  if (cell === null) return '-';
  if (typeof cell === 'string') return `s${cell.length}:${cell}`;
  if (typeof cell === 'object') return `b${cell.length}:${cell.toString('latin1')}`;
  return `i${cell},`;
}

/** Sums by table. Hashes are added without carrying, so that a row added and taken away again leaves nothing. */
export class Sums {
  #of = new Map<string, Buffer>();

  get empty(): boolean {
    return this.#of.size === 0;
  }

  add(table: string, value: Buffer): void {
    const before = this.#of.get(table);
    this.#of.set(table, before ? sumOf(before, value) : value);
  }

  addAll(others: Sums): void {
    for (const [table, value] of others.#of) this.add(table, value);
  }

  /** The sums as they are now, to go back to. */
  copy(): Sums {
    const copy = new Sums();
    copy.#of = new Map(this.#of);
    return copy;
  }

  /** Tables whose sums are not the same. */
  differing(other: Sums): readonly string[] {
    const tables = new Set([...this.#of.keys(), ...other.#of.keys()]);
    return [...tables].filter((table) => Buffer.compare(this.#at(table), other.#at(table)) !== 0).sort();
  }

  #at(table: string): Buffer {
    return this.#of.get(table) ?? Buffer.alloc(sumBytes);
  }

  toJson(): string {
    return JSON.stringify([...this.#of].map(([table, value]) => [table, value.toString('base64url')]));
  }

  static fromJson(text: string): Sums {
    const sums = new Sums();
    for (const [table, value] of JSON.parse(text) as [string, string][]) {
      sums.#of.set(table, Buffer.from(value, 'base64url'));
    }
    return sums;
  }
}

function sumOf(one: Buffer, other: Buffer): Buffer {
  const sum = Buffer.allocUnsafe(sumBytes);
  for (let at = 0; at < sumBytes; at += 4) {
    sum.writeInt32LE(one.readInt32LE(at) ^ other.readInt32LE(at), at);
  }
  return sum;
}
