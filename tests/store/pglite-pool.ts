import type { PGlite } from '@electric-sql/pglite';
import type { NamedQuery, PgClient, PgPool, PgResult } from '../../src/store/dialects/postgres.ts';

/** PGlite as a pool of one connection: who connects waits until the one before has let go. */
export class OnePool implements PgPool {
  readonly server: PGlite;
  private last: Promise<void> = Promise.resolve();

  constructor(server: PGlite) {
    this.server = server;
  }

  async connect(): Promise<PgClient> {
    const before = this.last;
    let release: () => void = () => undefined;
    this.last = new Promise((resolve) => {
      release = resolve;
    });
    await before;
    return { query: (query, values) => this.run(query, values), release };
  }

  private async run(query: NamedQuery | string, values?: readonly unknown[]): Promise<PgResult> {
    const text = typeof query === 'string' ? query : query.text;
    const given = typeof query === 'string' ? (values ?? []) : query.values;
    const result = await this.server.query<Record<string, unknown>>(text, [...given]);
    const command = text.trimStart().split(/\s/)[0]!.toUpperCase();
    const rows = result.rows.map((row) =>
      Object.fromEntries(
        Object.entries(row).map(([name, value]) => [name, value instanceof Uint8Array ? Buffer.from(value) : value]),
      ),
    );
    return { command, rowCount: command === 'SELECT' ? rows.length : (result.affectedRows ?? 0), rows };
  }

  async end(): Promise<void> {
    await this.last;
  }
}

/** Empties every table for the next test; what the migrations made stays, so that they run once a server. */
export async function emptied(server: PGlite): Promise<PGlite> {
  await server.exec('rollback');
  const { rows } = await server.query<{ name: string }>(
    "select quote_ident(tablename) as name from pg_tables where schemaname = 'public' and tablename not like 'kysely%'",
  );
  if (rows.length > 0)
    await server.exec(`truncate ${rows.map(({ name }) => name).join(', ')} restart identity cascade`);
  return server;
}
