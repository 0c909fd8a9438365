import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { caseStatuses } from '../../src/case/case.ts';
import { roles } from '../../src/case/roles.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { shipped } from '../support/shipped.ts';

/* Steps of the recipes in DEVELOPERS.md that neither compiler nor `check` sees: names that stand in texts and in SQL. */
const source = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

describe('a status', () => {
  it.each(caseStatuses)('%s has its words in lists', (status) => {
    expect(shipped.texts.has(`desk.status-${status}`)).toBe(true);
  });

  it('that is no status any more has no words', () => {
    const desk = shipped.sources.locales.flatMap(({ files }) => files.filter((file) => file.name === 'desk'));
    const said = desk.flatMap((file) => [...file.texts.keys()]).filter((key) => key.startsWith('status-'));
    expect(said.filter((key) => !caseStatuses.some((status) => key === `status-${status}`))).toEqual([]);
  });

  it('is in SQL by the list of statuses alone, never as a word of its own', () => {
    const files = readdirSync(new URL('../../src/store/', import.meta.url)).filter((name) => name.endsWith('.ts'));
    const asked = files
      .flatMap((name) => [...source(`src/store/${name}`).matchAll(/\bc\.status (?:in \(([^)]*)\)|= '([^']*)')/g)])
      .flatMap((found) => (found[1] ?? `'${found[2]}'`).match(/(?<=')[a-z-]+(?=')/g) ?? []);
    expect(asked).toEqual([]);
  });
});

describe('a role', () => {
  it.each(roles)('%s has its words for the coordinator', (role) => {
    expect(shipped.texts.has(`staff.role-${role}`)).toBe(true);
  });
});

describe('a column', () => {
  let folder = '';
  const inDatabase = new Map<string, readonly string[]>();
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-columns-'));
    const file = join(folder, 'neckline.db');
    await (await openStore({ url: `sqlite:${file}`, keys: keyRingOf(Buffer.alloc(32, 7)) })).close();
    const database = new Database(file, { readonly: true });
    const tables = database.prepare("select name from sqlite_master where type = 'table'").pluck().all() as string[];
    for (const table of tables) {
      const columns = database.prepare('select name from pragma_table_info(?)').pluck().all(table) as string[];
      inDatabase.set(table, columns);
    }
    database.close();
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const schema = source('src/store/schema.ts');
  const tables = [...schema.slice(schema.indexOf('export interface Tables')).matchAll(/^ {2}(\w+): (\w+Table);/gm)];

  it.each(tables.map((found) => [found[1]!, found[2]!] as const))(
    'of %s stands in the schema and is made by a migration, or neither',
    (table, shape) => {
      const body = new RegExp(`export interface ${shape} \\{\\n([\\s\\S]*?)\\n\\}`).exec(schema)?.[1] ?? '';
      const columns = [...body.matchAll(/^ {2}(\w+)\??: /gm)].map((found) => found[1]!);
      expect([...(inDatabase.get(table) ?? [])].sort()).toEqual(columns.sort());
    },
  );
});
