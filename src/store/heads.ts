/**
 * A head over all chains, taken once a day and sent out with the morning text: whoever holds one can show later that
 * nothing of what it covers was changed, lost or put in another order, even if the database was rewritten since.
 */
import { createHmac } from 'node:crypto';
import { type Kysely, sql } from 'kysely';
import type { KeyRing } from './keys.ts';
import { slots } from './rows.ts';
import type { HeadsTable, Tables } from './schema.ts';
import { all, change, one, reading, type Steps, writing } from './statement.ts';

/** Where the chain of heads begins. */
const firstPrevious = Buffer.alloc(32);

/** A head as people see it. */
export interface Head {
  readonly number: number;
  readonly at: number;
  /** Cases whose history went on since the head before. */
  readonly cases: number;
  /** Twelve letters and digits that stand for all of it; short enough for a text. */
  readonly mark: string;
}

/** A head of today with how much was ever erased: who restores a copy compares it with the list of erasures. */
export interface DayHead extends Head {
  readonly erased: number;
}

interface Moved {
  readonly id: string;
  readonly sequence: number;
  readonly head: Buffer;
}

export type HeadStatements = ReturnType<typeof headStatements>;

export function headStatements(db: Kysely<Tables>) {
  return {
    last: reading<Record<string, never>, HeadsTable>(
      'lastHead',
      db.selectFrom('heads').selectAll().orderBy('number', 'desc').limit(sql.lit(1)),
    ),
    moved: reading<Record<string, never>, Moved>(
      'movedCases',
      sql`select c.id, c.sequence, c.head from cases as c where c.sequence >
        coalesce((select max(h.sequence) from head_cases as h where h.case_id = c.id), 0) order by c.id`.compile(db),
    ),
    erased: reading<Record<string, never>, { count: number }>(
      'countErasures',
      sql`select count(*) as count from erasures`.compile(db),
    ),
    insert: writing<HeadsTable>(
      'insertHead',
      db.insertInto('heads').values(slots(['number', 'at', 'cases', 'previous', 'hash'])),
    ),
    insertCase: writing<{ number: number; case_id: string; sequence: number }>(
      'insertHeadCase',
      db.insertInto('head_cases').values(slots(['number', 'case_id', 'sequence'])),
    ),
  };
}

/** Keyed hash over the head before and where every chain that moved stood. */
function headHash(ring: KeyRing, head: Omit<HeadsTable, 'hash'>, moved: readonly Moved[]): Buffer {
  const mac = createHmac('sha256', ring.chain).update('heads\n').update(head.previous);
  mac.update(JSON.stringify([head.number, head.at, head.cases]));
  for (const { id, sequence, head: chain } of moved) {
    mac.update(`\n${JSON.stringify([id, sequence])}`).update(chain);
  }
  return mac.digest();
}

/** The head as people see it. */
function shownHead(row: HeadsTable): Head {
  const letters = row.hash
    .toString('base64url')
    .replace(/[^A-Za-z0-9]/g, '')
    .toUpperCase();
  return { number: row.number, at: row.at, cases: row.cases, mark: `${letters}000000000000`.slice(0, 12) };
}

/** Takes a head over all chains as they are now. One that is younger than `freshMs` is given again. */
export function* takeHead(ring: KeyRing, statements: HeadStatements, now: number, freshMs: number): Steps<DayHead> {
  const erased = Number((yield* one(statements.erased, {}))?.count ?? 0);
  const last = yield* one(statements.last, {});
  if (last && now - last.at < freshMs && now >= last.at) return { ...shownHead(last), erased };
  const moved = yield* all(statements.moved, {});
  const bare = {
    number: (last?.number ?? 0) + 1,
    at: now,
    cases: moved.length,
    previous: last?.hash ?? firstPrevious,
  };
  const row = { ...bare, hash: headHash(ring, bare, moved) };
  yield* change(statements.insert, row);
  for (const { id, sequence } of moved) {
    yield* change(statements.insertCase, { number: row.number, case_id: id, sequence });
  }
  return { ...shownHead(row), erased };
}

/** What is wrong with the heads and what they cover, one line each; and the last head. */
export async function verifyHeads(
  db: Kysely<Tables>,
  ring: KeyRing,
): Promise<{ readonly faults: readonly string[]; readonly last: Head | null; readonly heads: readonly Head[] }> {
  const faults: string[] = [];
  const heads: Head[] = [];
  let previous: Buffer = firstPrevious;
  let number = 0;
  for (const row of await db.selectFrom('heads').selectAll().orderBy('number').execute()) {
    number += 1;
    const day = new Date(row.at).toISOString().slice(0, 10);
    if (row.number !== number) faults.push(`head ${number} is missing`);
    number = row.number;
    if (Buffer.compare(row.previous, previous) !== 0) faults.push(`head ${row.number} does not follow the one before`);
    previous = row.hash;
    const covered = await db
      .selectFrom('head_cases as h')
      .leftJoin('case_events as e', (join) =>
        join.onRef('e.case_id', '=', 'h.case_id').onRef('e.sequence', '=', 'h.sequence'),
      )
      .select(['h.case_id', 'h.sequence', 'e.hash'])
      .where('h.number', '=', row.number)
      .orderBy('h.case_id')
      .execute();
    for (const one of covered) {
      if (one.hash === null)
        faults.push(`${one.case_id}: record ${one.sequence}, covered by the head of ${day}, is gone`);
    }
    const moved = covered.map((one) => ({
      id: one.case_id,
      sequence: one.sequence,
      head: one.hash ?? Buffer.alloc(0),
    }));
    if (Buffer.compare(headHash(ring, row, moved), row.hash) !== 0) {
      faults.push(`the head of ${day} does not fit what is stored: something before it was changed, lost or moved`);
    }
    heads.push(shownHead(row));
  }
  return { faults, last: heads.at(-1) ?? null, heads };
}
