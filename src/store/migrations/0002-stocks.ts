import type { Kysely, Migration } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** What each site has in hand. */
export function stocks(dialect: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema
        .createTable('site_stocks')
        .modifyEnd(dialect.keyedEnd)
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('site_id', 'text', (c) => c.notNull())
        .addColumn('version', dialect.integer, (c) => c.notNull())
        .addColumn('stock', 'text', (c) => c.notNull())
        .addPrimaryKeyConstraint('site_stocks_key', ['programme_id', 'site_id'])
        .execute();
    },
  };
}
