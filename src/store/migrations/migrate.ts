import { type Kysely, type Migration, Migrator } from 'kysely';
import type { Dialect } from '../dialects/dialect.ts';
import type { Tables } from '../schema.ts';
import { StoreError } from '../store-error.ts';
import { first } from './0001-first.ts';
import { stocks } from './0002-stocks.ts';
import { opened } from './0003-opened.ts';
import { links } from './0004-links.ts';
import { keeping } from './0005-keeping.ts';
import { lately } from './0006-lately.ts';
import { rosterChanges } from './0007-roster-changes.ts';
import { patients } from './0008-patients.ts';
import { places } from './0009-places.ts';
import { quoted } from './0011-quoted.ts';
import { dueWaits } from './0012-due-waits.ts';
import { witness } from './0013-witness.ts';
import { sealedMeaning } from './0014-sealed-meaning.ts';
import { signatures } from './0015-signatures.ts';

/** All migrations by name; a name never changes once it was released. */
function migrationsFor(dialect: Dialect): Record<string, Migration> {
  return {
    '0001-first': first(dialect),
    '0002-stocks': stocks(dialect),
    '0003-opened': opened,
    '0004-links': links(),
    '0005-keeping': keeping(dialect),
    '0006-lately': lately,
    '0007-roster-changes': rosterChanges(dialect),
    '0008-patients': patients(dialect),
    '0009-places': places(dialect),
    '0011-quoted': quoted,
    '0012-due-waits': dueWaits(dialect),
    '0013-witness': witness(dialect),
    '0014-sealed-meaning': sealedMeaning(dialect),
    '0015-signatures': signatures(dialect),
  };
}

/**
 * Brings the schema to the newest version; true: something was changed. Throws `newer-schema` when the database was written by a newer line.
 * The SQLite engine calls this inside one transaction; PostgreSQL's migrator opens its own.
 */
export async function migrate(kysely: Kysely<Tables>, dialect: Dialect): Promise<boolean> {
  const migrations = migrationsFor(dialect);
  const migrator = new Migrator({ db: kysely, provider: { getMigrations: async () => migrations } });
  const known = new Set(Object.keys(migrations));
  const present = await presentMigrations(kysely);
  const unknown = present.find((name) => !known.has(name));
  if (unknown !== undefined) throw new StoreError('newer-schema', unknown);
  const { error, results } = await migrator.migrateToLatest();
  if (error) throw error;
  return (results?.length ?? 0) > 0;
}

async function presentMigrations(kysely: Kysely<Tables>): Promise<readonly string[]> {
  const tables = await kysely.introspection.getTables({ withInternalKyselyTables: true });
  if (!tables.some((one) => one.name === 'kysely_migration')) return [];
  const rows = await (kysely as unknown as Kysely<{ kysely_migration: { name: string } }>)
    .selectFrom('kysely_migration')
    .select('name')
    .execute();
  return rows.map((one) => one.name);
}
