import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** Finds a site's cases of the same initials and sex, by a keyed hash, and the cases that follow another one. */
export function patients({ bytes }: Dialect): Migration {
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      await db.schema.alterTable('cases').addColumn('patient_mark', bytes).execute();
      await db.schema.alterTable('cases').addColumn('earlier_id', 'text').execute();
      await sql`create index cases_patient on cases (patient_mark) where patient_mark is not null`.execute(db);
      await sql`create index cases_earlier on cases (earlier_id) where earlier_id is not null`.execute(db);
    },
  };
}
