import type { Kysely, Migration } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** Who agreed to which value of the programme, and when (`store/signatures.ts`). */
export function signatures({ bytes, integer, growing, tableEnd }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema
        .createTable('signatures')
        .modifyEnd(tableEnd)
        .addColumn('number', growing, (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('item', 'text', (c) => c.notNull())
        .addColumn('hash', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
    },
  };
}
