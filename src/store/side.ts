/** Statements about the line itself: its marks, the structures of flows that it served, how many codes it gave out. */
import { type Kysely, sql } from 'kysely';
import { slots } from './rows.ts';
import type { FlowsTable, MetaTable, Tables } from './schema.ts';
import { reading, slot, writing } from './statement.ts';

export function sideStatements(db: Kysely<Tables>) {
  return {
    mark: reading<{ name: string }, Pick<MetaTable, 'value'>>(
      'mark',
      db.selectFrom('meta').select('value').where('name', '=', slot('name')),
    ),
    saveFlow: writing<FlowsTable>(
      'saveFlow',
      db
        .insertInto('flow_versions')
        .values(slots(['hash', 'flow', 'json', 'at']))
        .onConflict((on) => on.column('hash').doUpdateSet(slots(['json']))),
    ),
    codes: reading<{ programme_id: string }, { codes: number }>(
      'countCodes',
      sql`select count(*) as codes from specimens where programme_id = ${slot('programme_id')}`.compile(db),
    ),
    flows: reading<Record<never, never>, Pick<FlowsTable, 'hash' | 'json'>>(
      'flows',
      db.selectFrom('flow_versions').select(['hash', 'json']),
    ),
  };
}
