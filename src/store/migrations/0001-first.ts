import { type Kysely, type Migration, sql } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';

/** The first tables. */
export function first(dialect: Dialect): Migration {
  const { bytes, integer, growing, tableEnd, keyedEnd } = dialect;
  return {
    async up(db: Kysely<unknown>): Promise<void> {
      const table = (name: string) => db.schema.createTable(name).modifyEnd(tableEnd);
      const keyed = (name: string) => db.schema.createTable(name).modifyEnd(keyedEnd);

      await table('meta')
        .addColumn('name', 'text', (c) => c.primaryKey())
        .addColumn('value', 'text', (c) => c.notNull())
        .execute();
      await keyed('data_keys')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('wrapped', bytes)
        .addColumn('destroyed_at', integer)
        .execute();
      await keyed('event_keys')
        .addColumn('key', bytes, (c) => c.primaryKey().notNull())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .execute();

      await table('people')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('roles', 'text', (c) => c.notNull())
        .addColumn('site_id', 'text', (c) => c.notNull())
        .addColumn('locale', 'text', (c) => c.notNull())
        .addColumn('rank', integer, (c) => c.notNull())
        .addColumn('state', 'text', (c) => c.notNull())
        .addColumn('practised', integer, (c) => c.notNull())
        .addColumn('shared', integer, (c) => c.notNull())
        .addColumn('version', integer, (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
      await keyed('addresses')
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('hash', bytes, (c) => c.notNull())
        .addColumn('person_id', 'text', (c) => c.notNull().references('people.id'))
        .addPrimaryKeyConstraint('addresses_key', ['programme_id', 'hash'])
        .execute();
      await db.schema.createIndex('addresses_person').on('addresses').column('person_id').execute();
      await table('rosters')
        .addColumn('programme_id', 'text', (c) => c.primaryKey())
        .addColumn('version', integer, (c) => c.notNull())
        .execute();
      await table('invitations')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('person_id', 'text', (c) => c.notNull().references('people.id'))
        .addColumn('valid_until', integer, (c) => c.notNull())
        .addColumn('wrong_tries', integer, (c) => c.notNull())
        .addColumn('used', integer, (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
      await db.schema
        .createIndex('invitations_person')
        .on('invitations')
        .columns(['person_id', 'valid_until'])
        .execute();

      await table('conversations')
        .addColumn('person_id', 'text', (c) => c.primaryKey().references('people.id'))
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('version', integer, (c) => c.notNull())
        .addColumn('changed_at', integer, (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();

      await table('cases')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('site_id', 'text', (c) => c.notNull())
        .addColumn('owner_id', 'text', (c) => c.notNull())
        .addColumn('status', 'text', (c) => c.notNull())
        .addColumn('open', integer, (c) => c.notNull())
        .addColumn('opened_at', integer, (c) => c.notNull())
        .addColumn('due_at', integer)
        .addColumn('wake_at', integer)
        .addColumn('version', integer, (c) => c.notNull())
        .addColumn('sequence', integer, (c) => c.notNull())
        .addColumn('codes', 'text', (c) => c.notNull())
        .addColumn('head', bytes, (c) => c.notNull())
        .addColumn('erased_at', integer)
        .addColumn('tag_sealed', bytes, (c) => c.notNull())
        .addColumn('fold_sealed', bytes, (c) => c.notNull())
        .execute();
      await sql`create index cases_open on cases (programme_id, site_id, opened_at) where open = 1`.execute(db);
      await sql`create index cases_waiting on cases (programme_id, opened_at) where open = 1`.execute(db);
      await sql`create index cases_wake on cases (wake_at) where wake_at is not null`.execute(db);
      await keyed('case_events')
        .addColumn('case_id', 'text', (c) => c.notNull().references('cases.id'))
        .addColumn('sequence', integer, (c) => c.notNull())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('by_id', 'text', (c) => c.notNull())
        .addColumn('event_id', 'text', (c) => c.notNull())
        .addColumn('flow', 'text', (c) => c.notNull())
        .addColumn('previous', bytes, (c) => c.notNull())
        .addColumn('hash', bytes, (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .addPrimaryKeyConstraint('case_events_key', ['case_id', 'sequence'])
        .execute();
      await keyed('specimens')
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('code', 'text', (c) => c.notNull())
        .addColumn('case_id', 'text', (c) => c.notNull().references('cases.id'))
        .addColumn('specimen', 'text', (c) => c.notNull())
        .addPrimaryKeyConstraint('specimens_key', ['programme_id', 'code'])
        .execute();

      await table('questions')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('case_id', 'text')
        .addColumn('tag', 'text', (c) => c.notNull())
        .addColumn('about', 'text', (c) => c.notNull())
        .addColumn('item', 'text')
        .addColumn('urgency', 'text', (c) => c.notNull())
        .addColumn('options', 'text', (c) => c.notNull())
        .addColumn('asked_by', 'text', (c) => c.notNull())
        .addColumn('opened_at', integer, (c) => c.notNull())
        .addColumn('rung', integer, (c) => c.notNull())
        .addColumn('asked_of', 'text', (c) => c.notNull())
        .addColumn('answered_at', integer)
        .addColumn('answered_by', 'text')
        .addColumn('promise_until', integer)
        .addColumn('key_id', 'text', (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
      await sql`create unique index questions_tag on questions (programme_id, tag) where answered_at is null`.execute(
        db,
      );

      await keyed('due')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('person_id', 'text')
        .addColumn('case_id', 'text')
        .addColumn('name', 'text', (c) => c.notNull())
        .addColumn('frame_id', 'text')
        .addColumn('due_at', integer, (c) => c.notNull())
        .addColumn('claimed_by', 'text')
        .addColumn('lease_until', integer)
        .addColumn('timer', 'text')
        .addColumn('key_id', 'text')
        .addColumn('sealed', bytes)
        .execute();
      await db.schema.createIndex('due_at').on('due').column('due_at').execute();
      await db.schema.createIndex('due_person').on('due').columns(['person_id', 'frame_id', 'name']).execute();

      await table('messages')
        .addColumn('seq', growing, (c) => c.primaryKey())
        .addColumn('id', 'text', (c) => c.notNull().unique())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('direction', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('person_id', 'text')
        .addColumn('case_id', 'text')
        .addColumn('recipient', 'text', (c) => c.notNull())
        .addColumn('status', 'text', (c) => c.notNull())
        .addColumn('lane', integer, (c) => c.notNull())
        .addColumn('not_before', integer, (c) => c.notNull())
        .addColumn('valid_until', integer, (c) => c.notNull())
        .addColumn('tries', integer, (c) => c.notNull())
        .addColumn('safety', integer, (c) => c.notNull())
        .addColumn('segments', integer, (c) => c.notNull())
        .addColumn('network_at', integer)
        .addColumn('handed_at', integer)
        .addColumn('reported_at', integer)
        .addColumn('provider_id', 'text')
        .addColumn('claimed_by', 'text')
        .addColumn('lease_until', integer)
        .addColumn('key_id', 'text', (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
      await sql`create index messages_line on messages (recipient, lane, seq)
        where status in ('queued', 'sending')`.execute(db);
      await sql`create index messages_ready on messages (not_before) where status = 'queued'`.execute(db);
      await sql`create index messages_case on messages (case_id, seq) where case_id is not null`.execute(db);

      await keyed('stranger_days')
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('day', 'text', (c) => c.notNull())
        .addColumn('answers', integer, (c) => c.notNull())
        .addPrimaryKeyConstraint('stranger_days_key', ['programme_id', 'day'])
        .execute();
      await table('parked')
        .addColumn('id', 'text', (c) => c.primaryKey())
        .addColumn('programme_id', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .addColumn('code', 'text', (c) => c.notNull())
        .addColumn('key_id', 'text', (c) => c.notNull())
        .addColumn('sealed', bytes, (c) => c.notNull())
        .execute();
      await table('flow_versions')
        .addColumn('hash', 'text', (c) => c.primaryKey())
        .addColumn('flow', 'text', (c) => c.notNull())
        .addColumn('json', 'text', (c) => c.notNull())
        .addColumn('at', integer, (c) => c.notNull())
        .execute();
    },
  };
}
