/** Timers and events that become due, as rows with an absolute instant. */
import { type Kysely, sql } from 'kysely';
import type { Due, DueWhat } from '../conversation/event.ts';
import type { Context } from './context.ts';
import { caseKeyId, keyIdFor, personKeyId, type WrappedKey } from './data-keys.ts';
import type { Dialect } from './dialects/dialect.ts';
import type { Plan } from './plan.ts';
import type { CasesTable, DueTable, Tables } from './schema.ts';
import { openJson, sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, change, one, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';

/** Other processes leave a due row alone for this long after one took it. */
const leaseMs = 30_000;

const overduePrefix = 'overdue:';

export type DueStatements = ReturnType<typeof dueStatements>;

export function dueStatements(db: Kysely<Tables>, dialect: Dialect) {
  const free = sql<boolean>`(m.lease_until is null or m.lease_until <= ${slot('now')} or m.claimed_by = ${slot('owner')})`;
  return {
    ready: reading<{ now: number; owner: string; limit: number }, DueTable & WrappedKey>(
      'dueReady',
      db
        .selectFrom('due as m')
        .leftJoin('data_keys as k', 'k.id', 'm.key_id')
        .selectAll('m')
        .select(['k.wrapped', 'k.destroyed_at'])
        .where('m.due_at', '<=', slot('now'))
        .where(free)
        .orderBy('m.due_at')
        .orderBy('m.id')
        .limit(rowsAtMost('limit'))
        .modifyEnd(dialect.claim),
    ),
    first: reading<{ limit: number }, DueTable & WrappedKey>(
      'dueFirst',
      db
        .selectFrom('due as m')
        .leftJoin('data_keys as k', 'k.id', 'm.key_id')
        .selectAll('m')
        .select(['k.wrapped', 'k.destroyed_at'])
        .where('m.due_at', '=', (eb) => eb.selectFrom('due').select(eb.fn.min('due_at').as('at')))
        .orderBy('m.id')
        .limit(rowsAtMost('limit')),
    ),
    lease: writing<{ ids: string; owner: string; lease_until: number }>(
      'dueLease',
      db
        .updateTable('due')
        .set({ claimed_by: slot('owner'), lease_until: slot('lease_until') })
        .where('id', 'in', dialect.members(slot('ids'))),
    ),
    overdue: reading<
      { now: number; limit: number },
      Pick<CasesTable, 'id' | 'programme_id' | 'sequence'> & { wake_at: number }
    >(
      'overdue',
      db
        .selectFrom('cases')
        .select(['id', 'programme_id', 'sequence', 'wake_at'])
        .where('wake_at', 'is not', sql.lit(null))
        .where('wake_at', '<=', slot('now'))
        .orderBy('wake_at')
        .limit(rowsAtMost('limit')),
    ),
    nextDue: reading<{ owner: string }, { at: number | null }>(
      'nextDue',
      dialect.alone
        ? db
            .selectFrom('due')
            .select(sql<number | null>`min(due_at)`.as('at'))
            .where(sql<boolean>`${slot('owner')} is not null`)
        : // What another line took it is about to handle; should it die, the next look finds the row free.
          db
            .selectFrom('due')
            .select(sql<number | null>`due_at`.as('at'))
            .where(sql<boolean>`(lease_until is null or claimed_by = ${slot('owner')})`)
            .orderBy('due_at')
            .limit(sql.lit(1)),
    ),
    nextDuty: reading<Record<string, never>, { at: number | null }>(
      'nextDuty',
      db
        .selectFrom('cases')
        .select(sql<number | null>`min(wake_at)`.as('at'))
        .where('wake_at', 'is not', sql.lit(null)),
    ),
  };
}

/** What is sealed opens only for the person and the case that it was meant for. */
export function dueBound({
  id,
  person_id,
  case_id,
  name,
}: Pick<DueTable, 'id' | 'person_id' | 'case_id' | 'name'>): string {
  return JSON.stringify([`due:${id}`, person_id, case_id, name]);
}

/**
 * Whether a row holds anything of somebody, by kind: such a row is sealed. A timer holds nothing but names of the flow, a
 * stock's row for nobody nothing but counts, a trouble of the line nothing of anybody.
 */
const content: Readonly<Record<DueWhat['kind'], 'somebody' | 'nobody' | 'nobody-without-person'>> = {
  timer: 'nobody',
  trouble: 'nobody',
  'line-back': 'nobody',
  mend: 'nobody',
  welcome: 'nobody',
  stock: 'nobody-without-person',
  tell: 'somebody',
  run: 'somebody',
  answered: 'somebody',
  'alarm-again': 'somebody',
  'unknown-alarm': 'somebody',
  'ask-doctor': 'somebody',
  'part-missing': 'somebody',
  picture: 'somebody',
  climb: 'somebody',
  'hand-over': 'somebody',
  receive: 'somebody',
  standing: 'somebody',
  overview: 'somebody',
  undelivered: 'somebody',
  'look-again': 'somebody',
  overdue: 'somebody',
};

/** Plans one row; one that is there already stays as it is. */
export function* putDue(context: Context, plan: Plan, due: Due, at: number): Steps<void> {
  const holds = content[due.what.kind];
  const plain = holds === 'nobody' || (holds === 'nobody-without-person' && due.personId === null);
  const keyId = plain ? null : dueKeyId(due, at);
  const key = keyId === null ? null : yield* context.keys.obtain(keyId, due.programmeId);
  const row = { id: due.id, person_id: due.personId, case_id: due.caseId, name: due.name };
  plan.may(context.hot.insertDue, {
    ...row,
    programme_id: due.programmeId,
    frame_id: due.frameId,
    due_at: due.dueAt,
    wait: Math.max(0, due.dueAt - at),
    key_id: keyId,
    timer: plain ? JSON.stringify(due.what) : null,
    sealed: key ? sealJson(key, due.what, dueBound(row)) : null,
  });
}

function dueKeyId(due: Due, at: number): string {
  if (due.personId !== null && due.caseId === null) return personKeyId(due.personId);
  return due.caseId !== null ? caseKeyId(due.caseId) : keyIdFor({ ...due, at });
}

/** Plans to take a handled row off the table; a case's duty is not spoken of again until it changes. */
export function doneDue(context: Context, plan: Plan, id: string): void {
  const overdue = readOverdueId(id);
  if (overdue) plan.may(context.hot.dutySpoken, { id: overdue.caseId, wake_at: overdue.dueAt });
  else plan.may(context.hot.dueDone, { id });
}

/**
 * Id of the event that says that a case's duty is overdue. The length of its history is part of it: a duty may come back
 * to a time that was spoken of before, and is spoken of again then.
 */
function overdueId(caseId: string, dueAt: number, sequence: number): string {
  return `${overduePrefix}${caseId}:${dueAt}:${sequence}`;
}

function readOverdueId(id: string): { caseId: string; dueAt: number } | null {
  const [, caseId, dueAt] = /^overdue:(.+):(\d+):\d+$/.exec(id) ?? [];
  return caseId === undefined ? null : { caseId, dueAt: Number(dueAt) };
}

/** Told to the coordinators in place of what does not open. */
const lostRow: DueWhat = { kind: 'trouble', key: 'due-lost', vars: {} };

/** What a row does; null when its key was destroyed. */
function whatOf(context: Context, row: DueTable & WrappedKey): DueWhat | null {
  if (row.timer !== null) return ifOpens(() => JSON.parse(row.timer!) as DueWhat) ?? lostRow;
  if (row.destroyed_at !== null) return null;
  return (
    ifOpens(() => {
      const key = row.key_id === null ? null : context.keys.unwrap(row.key_id, row);
      return key && row.sealed ? openJson<DueWhat>(key, row.sealed, dueBound(row)) : null;
    }) ?? lostRow
  );
}

/** What is due at `now`, oldest first. Rows whose key was destroyed are dropped. */
export function* dueBefore(
  context: Context,
  statements: DueStatements,
  dialect: Dialect,
  owner: string,
  now: number,
  limit: number,
): Steps<readonly Due[]> {
  const rows = yield* all(statements.ready, { now, owner, limit });
  const due: Due[] = [];
  for (const row of rows) {
    const what = whatOf(context, row);
    if (!what) {
      if (!dialect.alone) yield* change(context.hot.dueDone, { id: row.id });
      continue;
    }
    due.push(dueOf(row, what));
  }
  if (!dialect.alone && due.length > 0) {
    yield* change(statements.lease, {
      ids: JSON.stringify(due.map((row) => row.id)),
      owner,
      lease_until: now + leaseMs,
    });
  }
  due.push(...(yield* all(statements.overdue, { now, limit })).map(overdueOf));
  return due.sort((a, b) => a.dueAt - b.dueAt || (a.id < b.id ? -1 : 1)).slice(0, limit);
}

function dueOf(row: DueTable, what: DueWhat): Due {
  return {
    id: row.id,
    programmeId: row.programme_id,
    personId: what === lostRow ? null : row.person_id,
    caseId: what === lostRow ? null : row.case_id,
    name: row.name,
    frameId: row.frame_id,
    dueAt: row.due_at,
    what,
  };
}

function overdueOf(row: Pick<CasesTable, 'id' | 'programme_id' | 'sequence'> & { wake_at: number }): Due {
  return {
    id: overdueId(row.id, row.wake_at, row.sequence),
    programmeId: row.programme_id,
    personId: null,
    caseId: row.id,
    name: 'overdue',
    frameId: null,
    dueAt: row.wake_at,
    what: { kind: 'overdue', caseId: row.id },
  };
}

/** What becomes due first, all of one instant; nothing is taken, so that another process may take it. */
export function* firstDue(context: Context, statements: DueStatements, limit: number): Steps<readonly Due[]> {
  const rows = yield* all(statements.first, { limit });
  const due = rows.flatMap((row) => {
    const what = whatOf(context, row);
    return what ? [dueOf(row, what)] : [];
  });
  const duty = (yield* one(statements.nextDuty, {}))?.at ?? null;
  const duties = duty === null ? [] : yield* all(statements.overdue, { now: duty, limit });
  const both = [...due, ...duties.map(overdueOf)];
  const at = Math.min(...both.map((one) => one.dueAt));
  return both.filter((one) => one.dueAt === at).slice(0, limit);
}

/** The next instant at which `dueBefore` has something to give. */
export function* nextDueAt(statements: DueStatements, owner: string): Steps<number | null> {
  const due = (yield* one(statements.nextDue, { owner }))?.at ?? null;
  const duty = (yield* one(statements.nextDuty, {}))?.at ?? null;
  if (due === null || duty === null) return due ?? duty;
  return Math.min(due, duty);
}
