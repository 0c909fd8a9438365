/** What each site has in hand: one row a site, written whole. */
import { type Kysely, sql } from 'kysely';
import type { SiteStock } from '../case/stock.ts';
import type { ChangeSet, Loaded } from '../line/ports.ts';
import type { Context } from './context.ts';
import type { Plan } from './plan.ts';
import { slots } from './rows.ts';
import type { SiteStocksTable, Tables } from './schema.ts';
import { all, reading, type Steps, slot, writing } from './statement.ts';

export function stockStatements(db: Kysely<Tables>) {
  return {
    siteStocks: reading<{ programme_id: string }, Pick<SiteStocksTable, 'version' | 'stock'>>(
      'siteStocks',
      db
        .selectFrom('site_stocks')
        .select(['version', 'stock'])
        .where('programme_id', '=', slot('programme_id'))
        .orderBy('site_id'),
    ),
    insertStock: writing<SiteStocksTable>(
      'insertStock',
      db
        .insertInto('site_stocks')
        .values(slots(['programme_id', 'site_id', 'version', 'stock']))
        .onConflict((on) => on.doNothing()),
    ),
    updateStock: writing<SiteStocksTable>(
      'updateStock',
      db
        .updateTable('site_stocks')
        .set({ version: sql`version + 1`, stock: slot('stock') })
        .where('programme_id', '=', slot('programme_id'))
        .where('site_id', '=', slot('site_id'))
        .where('version', '=', slot('version')),
    ),
  };
}

/** Every site that ever counted, by id. */
export function* stocksOf(context: Context, programmeId: string): Steps<Loaded['stocks']> {
  const rows = yield* all(context.hot.siteStocks, { programme_id: programmeId });
  return rows.map((row) => ({ value: JSON.parse(row.stock) as SiteStock, version: row.version }));
}

/** Plans to write a site's stock. `conflict`: somebody else wrote it meanwhile. */
export function putStock(
  context: Context,
  plan: Plan,
  programmeId: string,
  { value, version }: ChangeSet['stocks'][number],
): void {
  const row = { programme_id: programmeId, site_id: value.siteId, stock: JSON.stringify(value) };
  if (version === null) plan.must(context.hot.insertStock, { ...row, version: 1 }, 'conflict');
  else plan.must(context.hot.updateStock, { ...row, version }, 'conflict');
}
