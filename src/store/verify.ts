/** Recomputing what is stored: chains, folds and the columns that cache them. */
import type { Kysely } from 'kysely';
import { type Case, evolve, noCase } from '../case/case.ts';
import { chainHash, chainStart, flowOf, foldBound, markOf, recordBound, type SealedRecord, tagBound } from './cases.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import { pageSize } from './pages.ts';
import type { CaseEventsTable, CasesTable, Tables } from './schema.ts';
import { openJson, openSealed } from './seal.ts';
import { ifOpens } from './shut.ts';
import { signatureFaults } from './signatures.ts';
import { keyFaults, peopleFaults } from './verify-people.ts';
import { sealFaults } from './verify-seals.ts';

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
  const codes = new Map<string, string>();
  const page = (after: string) =>
    db.selectFrom('cases').selectAll().where('id', '>', after).orderBy('id').limit(pageSize).execute();
  for (let after: string | null = ''; after !== null; ) {
    const rows: CasesTable[] = await page(after);
    for (const row of rows) {
      cases += 1;
      const found = await verifyCase(db, context, row, codes);
      if (found === 'erased') erased.push(row.id);
      else faults.push(...found.map((fault) => `${row.id}: ${fault}`));
    }
    after = rows.length < pageSize ? null : rows.at(-1)!.id;
  }
  faults.push(
    ...(await strayRecords(db)),
    ...(await codeFaults(db, codes, new Set(erased))),
    ...(await keyFaults(db, context)),
    ...(await peopleFaults(db, context)),
    ...(await sealFaults(db, context)),
    ...(await signatureFaults(db, context.ring)),
  );
  return { cases, erased, faults };
}

async function verifyCase(
  db: Kysely<Tables>,
  context: Context,
  row: CasesTable,
  codes: Map<string, string>,
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
    return [...faults, ...foldFaults(context, row, events, keyRow, codes)];
  } catch {
    return [...faults, 'a sealed value does not open'];
  }
}

function chainFaults(context: Context, row: CasesTable, events: readonly CaseEventsTable[]): readonly string[] {
  let head: Buffer = chainStart;
  for (const [index, event] of events.entries()) {
    if (event.sequence !== index + 1) return [`record ${index + 1} is missing`];
    const flow = ifOpens(() => flowOf(context.ring, event));
    if (flow === null) return [`the flow of record ${event.sequence} does not open`];
    if (!same(event.previous, head)) return [`record ${event.sequence} does not follow the one before`];
    if (!same(event.hash, chainHash(context.ring, event, flow))) return [`record ${event.sequence} was changed`];
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
  codes: Map<string, string>,
): readonly string[] {
  const key = context.keys.unwrap(caseKeyId(row.id), keyRow);
  if (!key) return ['its key is missing'];
  let fold = noCase(row.id, row.programme_id);
  for (const record of events) {
    const { event } = openJson<SealedRecord>(key, record.sealed, recordBound(row.id, record.sequence));
    const { sequence, at, by_id: by, event_id: eventId } = record;
    fold = evolve(fold, { caseId: row.id, sequence, at, by, eventId, event });
    if (event.type === 'code-issued') codes.set(event.code, `${row.id} ${event.specimen}`);
  }
  openSealed(key, row.tag_sealed, tagBound(row.id));
  const stored = ifOpens(() => openJson<Case>(key, row.fold_sealed, foldBound(row.id, row.version, row.head)));
  const faults: string[] = [];
  if (stored === null || canonical(stored) !== canonical(fold))
    faults.push('the stored case is not what its history gives');
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

/** Codes that lead to another specimen than the one whose history issued them, and issued ones that lead nowhere. */
async function codeFaults(
  db: Kysely<Tables>,
  issued: ReadonlyMap<string, string>,
  erased: ReadonlySet<string>,
): Promise<readonly string[]> {
  const faults: string[] = [];
  const left = new Map(issued);
  for (const { code, case_id, specimen } of await db.selectFrom('specimens').selectAll().execute()) {
    if (erased.has(case_id)) continue;
    if (left.get(code) !== `${case_id} ${specimen}`) faults.push(`${case_id}: a code that its history did not issue`);
    else left.delete(code);
  }
  return [...faults, ...[...left.values()].map((of) => `${of.slice(0, of.indexOf(' '))}: a code of it leads nowhere`)];
}
