/** Where the two engines differ, by name. */
import type { ColumnDataType, Kysely, RawBuilder } from 'kysely';
import type { Tables } from '../schema.ts';
import type { Steps } from '../statement.ts';
import type { WitnessKeys } from '../witness.ts';

export interface Dialect {
  readonly name: 'sqlite' | 'postgres';
  /** Column type of sealed bytes and hashes. */
  readonly bytes: ColumnDataType | RawBuilder<unknown>;
  /** Column type of instants and counts. */
  readonly integer: ColumnDataType;
  /** Column type of a primary key that grows by itself. */
  readonly growing: ColumnDataType;
  /** Stands at the end of `create table`. */
  readonly tableEnd: RawBuilder<unknown>;
  /** The same for a table of short rows that is only ever looked up by its key. */
  readonly keyedEnd: RawBuilder<unknown>;
  /** The members of a JSON list of texts, as a query of one column. */
  members(list: unknown): RawBuilder<string>;
  /** The members of a JSON list of whole numbers. */
  numbers(list: unknown): RawBuilder<number>;
  /** Bytes as hexadecimal text. */
  hex(bytes: RawBuilder<unknown>): RawBuilder<string>;
  /** Stands at the end of a claiming query on table `m`: takes what no other process is taking. */
  readonly claim: RawBuilder<unknown>;
  /** True when a second line on the same database is impossible, so that all claims left over are our own. */
  readonly alone: boolean;
}

/** How a piece of work in a group ends: only `committed` is kept. */
export type Ended = 'committed' | 'duplicate' | 'conflict';

/**
 * Where destroyed or replaced bytes may still stand. `gone`: nowhere in the database's files; `held`: in the file or its
 * log, since somebody reads an older state (try again); `server`: in no table, but in the server's own log and in blocks
 * that it freed, until it writes over them.
 */
export type Scrubbed = 'gone' | 'held' | 'server';

/** One engine: the only thing that touches a driver. */
export interface Engine {
  readonly dialect: Dialect;
  /** For migrations, and afterwards for reading only. */
  readonly kysely: Kysely<Tables>;
  /** Runs reading steps. */
  read<T>(steps: () => Steps<T>): Promise<T>;
  /** Runs steps in one durable transaction; throws when it cannot be committed. */
  write<T>(steps: () => Steps<T>): Promise<T>;
  /**
   * Runs each piece by itself, in order, in as few durable transactions as the engine allows. A piece that throws or
   * does not end `committed` leaves no trace; the others are not harmed. A thrown error is the piece's answer.
   */
  each(pieces: readonly (() => Steps<Ended>)[]): Promise<readonly (Ended | Error)[]>;
  /** After erasing: takes the destroyed bytes out of the files; tried once, waiting for nobody longer than a moment. */
  scrub(): Promise<Scrubbed>;
  /**
   * Keeps the witness of all rows from now on; to be called before anything is written. Where the tables were changed at
   * the opening, their rows are first taken for right.
   */
  watch(keys: WitnessKeys): Promise<void>;
  /** Tables whose rows are not what was written through the line, by their witness (`witness.ts`). */
  witnessed(): Promise<readonly string[]>;
  /** The engine's own quick check of its file; true where it keeps watch itself. Runs beside all else. */
  isSound(): Promise<boolean>;
  /** Takes the rows as they are for right. */
  takeStock(): Promise<void>;
  /** Copies the database, as it is now, into a new file; refused where the engine brings its own tools. */
  copyTo(file: string): Promise<boolean>;
  close(): Promise<void>;
}
