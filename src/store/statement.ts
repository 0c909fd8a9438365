/**
 * Statements compiled once and run by hand, and the steps made of them. Steps are written once as generators: on
 * SQLite they run through in one go inside a transaction, on PostgreSQL each waits for its answer.
 */
import { type Compilable, type CompiledQuery, type RawBuilder, sql } from 'kysely';

/** A value that is given when the statement runs. */
class Slot {
  readonly name: string;

  constructor(name: string) {
    this.name = name;
  }
}

/** Stands for the value called `name` while a statement is built. */
export function slot(name: string): never {
  return new Slot(name) as never;
}

/**
 * The value called `name` as how many rows at most. SQLite plans a statement anew after each binding of a value that its
 * plan may depend on (sqlite.org, sqlite3_prepare_v2, from memory), and takes a bare `limit ?` for one: planning took ten
 * times as long as the reading. A value inside an expression is none.
 */
export function rowsAtMost(name: string): RawBuilder<number> {
  return sql<number>`cast(${slot(name)} as bigint)`;
}

/** What the drivers bind. */
export type Bound = string | number | Buffer | null;

/** Compiled SQL; `Values` are the values it takes, `Row` the rows it gives (never for writes without `returning`). */
export interface Statement<Values, Row> {
  readonly name: string;
  readonly text: string;
  readonly reads: boolean;
  readonly order: readonly (keyof Values & string)[];
  /** Never set; carries the type. */
  readonly row?: Row;
}

/** Compiles a statement that gives rows. */
export function reading<Values, Row>(name: string, query: Compilable | CompiledQuery): Statement<Values, Row> {
  return compiled(name, query, true);
}

/** Compiles a statement that changes rows and gives their count. */
export function writing<Values>(name: string, query: Compilable | CompiledQuery): Statement<Values, never> {
  return compiled(name, query, false);
}

function compiled<Values, Row>(
  name: string,
  query: Compilable | CompiledQuery,
  reads: boolean,
): Statement<Values, Row> {
  const { sql, parameters } = 'compile' in query ? query.compile() : query;
  const order = parameters.map((one) => {
    if (!(one instanceof Slot)) throw new Error(`statement ${name} holds a fixed value: write it as a literal`);
    return one.name as keyof Values & string;
  });
  if (/\blimit (\?|\$\d)/.test(sql)) throw new Error(`statement ${name} has a bare limit: write it with rowsAtMost`);
  return { name, text: sql, reads, order };
}

/** One statement with its values, as the engines get it. */
export interface Call {
  readonly statement: Statement<unknown, unknown>;
  readonly values: readonly Bound[];
}

/** Rows of a reading statement, or the count of changed rows. */
export type Answer = readonly unknown[] | number;

/** A piece of work on one transaction (or one reading), which the engine drives. */
export type Steps<T> = Generator<Call, T, Answer>;

/** One run of a statement. */
export function call<Values, Row>(statement: Statement<Values, Row>, values: Values): Call {
  const order = statement.order;
  const list: Bound[] = new Array(order.length);
  for (let index = 0; index < order.length; index += 1) list[index] = values[order[index]!] as Bound;
  return { statement: statement as Statement<unknown, unknown>, values: list };
}

/** All rows. */
export function* all<Values, Row>(statement: Statement<Values, Row>, values: Values): Steps<readonly Row[]> {
  return (yield call(statement, values)) as readonly Row[];
}

/** The first row, or undefined. */
export function* one<Values, Row>(statement: Statement<Values, Row>, values: Values): Steps<Row | undefined> {
  return ((yield call(statement, values)) as readonly Row[])[0];
}

/** Count of changed rows. */
export function* change<Values>(statement: Statement<Values, never>, values: Values): Steps<number> {
  return (yield call(statement, values)) as number;
}
