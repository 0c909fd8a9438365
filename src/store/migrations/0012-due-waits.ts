import type { Kysely, Migration } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** How long a row was to wait when it was set, ms; null = set before this was kept. */
export function dueWaits({ integer }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema.alterTable('due').addColumn('wait', integer).execute();
    },
  };
}
