/** Who looked at a whole case from the command line. */
import type { Kysely } from 'kysely';
import { slots } from './rows.ts';
import type { Tables } from './schema.ts';
import { writing } from './statement.ts';

export interface Look {
  readonly at: number;
  readonly by: string;
}

export function lookStatements(db: Kysely<Tables>) {
  return {
    note: writing<{ case_id: string; at: number; by: string }>(
      'noteLook',
      db.insertInto('case_looks').values(slots(['case_id', 'at', 'by'])),
    ),
  };
}

/** Earlier looks, oldest first. */
export async function looksAt(db: Kysely<Tables>, caseId: string): Promise<readonly Look[]> {
  const rows = await db.selectFrom('case_looks').selectAll().where('case_id', '=', caseId).orderBy('number').execute();
  return rows.map(({ at, by }) => ({ at, by }));
}
