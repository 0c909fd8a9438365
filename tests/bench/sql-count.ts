/** Counts SQL statements and commits of this process, whoever makes them. For counting only: it costs time. */
import Sqlite from 'better-sqlite3';

export interface SqlCount {
  /** Statements that read or write rows. */
  statements: number;
  /** Ends of transactions, and writes that are their own transaction. */
  commits: number;
}

/** Counts from now on, in databases and statements opened afterwards, until `stop`. */
export function countSql(): { readonly count: SqlCount; stop(): void } {
  const count: SqlCount = { statements: 0, commits: 0 };
  const { prepare } = Sqlite.prototype;
  Sqlite.prototype.prepare = function counted(this: Sqlite.Database, text: string) {
    const statement = prepare.call(this, text);
    const isControl = /^\s*(begin|savepoint|release|rollback)\b/i.test(text);
    const isCommit = /^\s*commit\b/i.test(text);
    const watch = (name: 'run' | 'get' | 'all') => {
      const real = statement[name];
      statement[name] = (...values: unknown[]) => {
        if (isCommit || (!this.inTransaction && !statement.readonly && !isControl)) count.commits += 1;
        if (!isCommit && !isControl) count.statements += 1;
        return real.apply(statement, values as never) as never;
      };
    };
    for (const name of ['run', 'get', 'all'] as const) watch(name);
    return statement;
  } as typeof prepare;
  return {
    count,
    stop: () => {
      Sqlite.prototype.prepare = prepare;
    },
  };
}
