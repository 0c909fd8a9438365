import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** The sums over all rows (`store/witness.ts`): sealed by the line, or masked where the database itself moves them. */
export function witness({ name, bytes, tableEnd }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      if (name === 'postgres') {
        await sql`create table witness (name text primary key, turn bigint not null, sum bit(256) not null)`.execute(
          db,
        );
        return;
      }
      await db.schema
        .createTable('witness')
        .addColumn('name', 'text', (column) => column.primaryKey().notNull())
        .addColumn('sealed', bytes, (column) => column.notNull())
        .modifyEnd(tableEnd)
        .execute();
    },
  };
}
