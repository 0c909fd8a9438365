/** Recomputing what is stored: chains, folds and the columns that cache them. */
import { type Kysely, sql } from 'kysely';
import { type Case, evolve, noCase } from '../case/case.ts';
import { chainHash, chainStart, foldBound, markOf, recordBound, type SealedRecord } from './cases.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import type { CaseEventsTable, CasesTable, Tables } from './schema.ts';
import { openJson, openSealed } from './seal.ts';
import { unwrapKey } from './wrapping.ts';

/** Cases read at once: short reads let the engine tidy up in between. */
const pageSize = 200;

export interface Verified {
  readonly cases: number;
  /** Ids of cases whose key was destroyed: their chain was checked, their content is gone. */
  readonly erased: readonly string[];
  /** One line each: case id and what is wrong. */
  readonly faults: readonly string[];
}

/** Checks every case. Reads only. */
export async function verifyAll(db: Kysely<Tables>, context: Context): Promise<Verified> {
  const erased: string[] = [];
  const faults: string[] = [];
  let cases = 0;
  let after = '';
  for (;;) {
    const page = await db
      .selectFrom('cases')
      .selectAll()
      .where('id', '>', after)
      .orderBy('id')
      .limit(pageSize)
      .execute();
    for (const row of page) {
      cases += 1;
      after = row.id;
      const found = await verifyCase(db, context, row);
      if (found === 'erased') erased.push(row.id);
      else faults.push(...found.map((fault) => `${row.id}: ${fault}`));
    }
    if (page.length < pageSize) break;
  }
  faults.push(...(await strayRecords(db)), ...(await shutKeys(db, context)));
  return { cases, erased, faults };
}

async function verifyCase(
  db: Kysely<Tables>,
  context: Context,
  row: CasesTable,
): Promise<readonly string[] | 'erased'> {
  const events = await db
    .selectFrom('case_events')
    .selectAll()
    .where('case_id', '=', row.id)
    .orderBy('sequence')
    .execute();
  const faults = chainFaults(context, row, events);
  const keyRow = await db
    .selectFrom('data_keys')
    .select(['wrapped', 'destroyed_at'])
    .where('id', '=', caseKeyId(row.id))
    .executeTakeFirst();
  if (!keyRow) return [...faults, 'its key is missing'];
  if (keyRow.destroyed_at !== null) return faults.length === 0 ? 'erased' : faults;
  try {
    return [...faults, ...foldFaults(context, row, events, keyRow)];
  } catch {
    return [...faults, 'a sealed value does not open'];
  }
}

function chainFaults(context: Context, row: CasesTable, events: readonly CaseEventsTable[]): readonly string[] {
  let head: Buffer = chainStart;
  for (const [index, event] of events.entries()) {
    if (event.sequence !== index + 1) return [`record ${index + 1} is missing`];
    if (!same(event.previous, head)) return [`record ${event.sequence} does not follow the one before`];
    if (!same(event.hash, chainHash(context.ring, event))) return [`record ${event.sequence} was changed`];
    head = event.hash;
  }
  const faults: string[] = [];
  if (!same(row.head, head)) faults.push('its last record is not the last of its history');
  if (row.sequence !== events.length) faults.push(`it counts ${row.sequence} records, its history ${events.length}`);
  return faults;
}

function foldFaults(
  context: Context,
  row: CasesTable,
  events: readonly CaseEventsTable[],
  keyRow: { wrapped: Buffer | null; destroyed_at: number | null },
): readonly string[] {
  const key = context.keys.unwrap(caseKeyId(row.id), keyRow);
  if (!key) return ['its key is missing'];
  let fold = noCase(row.id, row.programme_id);
  for (const event of events) {
    fold = evolve(fold, {
      caseId: row.id,
      sequence: event.sequence,
      at: event.at,
      by: event.by_id,
      eventId: event.event_id,
      flow: event.flow,
      event: openJson<SealedRecord>(key, event.sealed, recordBound(row.id, event.sequence)).event,
    });
  }
  const stored = openJson<Case>(key, row.fold_sealed, foldBound(row.id));
  const faults: string[] = [];
  if (canonical(stored) !== canonical(fold)) faults.push('the stored case is not what its history gives');
  const open = fold.status !== 'closed';
  const columns: readonly [string, unknown, unknown][] = [
    ['status', row.status, fold.status],
    ['site', row.site_id, fold.siteId],
    ['owner', row.owner_id, fold.ownerId],
    ['open', row.open, open ? 1 : 0],
    ['codes', row.codes, fold.specimens.map((specimen) => specimen.code).join(' ')],
    ['patient', row.patient_mark?.toString('hex') ?? null, markOf(context.ring, fold)?.toString('hex') ?? null],
    ['earlier case', row.earlier_id, fold.earlierCaseId],
  ];
  for (const [name, column, folded] of columns) {
    if (column !== folded) faults.push(`the column for its ${name} is not what its history gives`);
  }
  return faults;
}

/** JSON with sorted keys: equal values have equal text. */
function canonical(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    inner !== null && typeof inner === 'object' && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner,
  );
}

function same(one: Uint8Array, other: Uint8Array): boolean {
  return Buffer.compare(one, other) === 0;
}

async function strayRecords(db: Kysely<Tables>): Promise<readonly string[]> {
  const rows = await db
    .selectFrom('case_events as e')
    .leftJoin('cases as c', 'c.id', 'e.case_id')
    .select('e.case_id')
    .where('c.id', 'is', null)
    .distinct()
    .execute();
  return rows.map((row) => `${row.case_id}: records without a case`);
}

/** Keys of people and strangers that do not open, and names that do not under theirs. Those of cases were tried. */
async function shutKeys(db: Kysely<Tables>, context: Context): Promise<readonly string[]> {
  const faults: string[] = [];
  for (let after = ''; ; ) {
    const page = await db
      .selectFrom('data_keys as k')
      .leftJoin('people as p', (join) => join.on('k.id', '=', sql`'person:' || p.id`))
      .select(['k.id', 'k.wrapped', 'p.sealed'])
      .where('k.id', '>', after)
      .where('k.id', 'not like', 'case:%')
      .where('k.destroyed_at', 'is', null)
      .orderBy('k.id')
      .limit(pageSize)
      .execute();
    for (const { id, wrapped, sealed } of page) {
      after = id;
      let fault = 'its key does not open';
      try {
        if (wrapped === null) throw new Error('no key');
        const key = unwrapKey(context.ring, wrapped, id);
        fault = 'name and addresses do not open';
        if (sealed !== null) openSealed(key, sealed, id);
      } catch {
        faults.push(`${id}: ${fault}`);
      }
    }
    if (page.length < pageSize) return faults;
  }
}
