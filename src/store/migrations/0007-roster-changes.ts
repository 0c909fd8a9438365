import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** By which version of the roster a person changed last, so that only what is new is read again. */
export function rosterChanges({ integer }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema
        .alterTable('people')
        .addColumn('changed_in', integer, (c) => c.notNull().defaultTo(0))
        .execute();
      await sql`create index people_changed on people (programme_id, changed_in)`.execute(db);
    },
  };
}
