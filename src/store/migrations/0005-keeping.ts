import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** What proves the history, what was erased, who looked, and how long the fate of a text has been unknown. */
export function keeping(dialect: Dialect): Migration {
  const { bytes, integer, growing, tableEnd, keyedEnd } = dialect;
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema.alterTable('messages').addColumn('doubt_until', integer).execute();
      await db.schema
        .alterTable('messages')
        .addColumn('doubts', integer, (c) => c.notNull().defaultTo(0))
        .execute();
      await sql`create index messages_doubtful on messages (doubt_until) where status = 'unsure'`.execute(db);
      await db.schema
        .createTable('heads')
        .modifyEnd(tableEnd)
        .addColumn('number', integer, (c) => c.primaryKey())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('cases', integer, (c) => c.notNull())
        .addColumn('previous', bytes, (c) => c.notNull())
        .addColumn('hash', bytes, (c) => c.notNull())
        .execute();
      await db.schema
        .createTable('head_cases')
        .modifyEnd(keyedEnd)
        .addColumn('number', integer, (c) => c.notNull().references('heads.number'))
        .addColumn('case_id', 'text', (c) => c.notNull())
        .addColumn('sequence', integer, (c) => c.notNull())
        .addPrimaryKeyConstraint('head_cases_key', ['number', 'case_id'])
        .execute();
      await db.schema.createIndex('head_cases_case').on('head_cases').columns(['case_id', 'sequence']).execute();
      await db.schema
        .createTable('erasures')
        .modifyEnd(keyedEnd)
        .addColumn('key_id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('reason', 'text', (c) => c.notNull())
        .execute();
      await db.schema
        .createTable('case_looks')
        .modifyEnd(tableEnd)
        .addColumn('number', growing, (c) => c.primaryKey())
        .addColumn('case_id', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('by', 'text', (c) => c.notNull())
        .execute();
      await db.schema.createIndex('case_looks_case').on('case_looks').column('case_id').execute();
    },
  };
}
