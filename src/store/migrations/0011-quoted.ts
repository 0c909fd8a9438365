import { type Kysely, type Migration, sql } from 'kysely';

/** Finds the message that a text was sent as a reply to, by the id that its network gave it. */
export const quoted: Migration = {
  async up(db: Kysely<unknown>): Promise<void> {
    await sql`create index messages_provider on messages (recipient, provider_id) where provider_id is not null`.execute(
      db,
    );
  },
};
