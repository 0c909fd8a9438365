/** Cases: the fold with its indexed columns, and the chained history. */
import { hash } from 'node:crypto';
import type { Case } from '../case/case.ts';
import type { CaseEvent, CaseRecord } from '../case/events.ts';
import { patientKeyOf } from '../case/same-patient.ts';
import type { CaseBrief } from '../conversation/world.ts';
import type { ChangeSet } from '../line/ports.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import type { Ended } from './dialects/dialect.ts';
import { type KeyRing, patientMark } from './keys.ts';
import type { SealedText } from './messages.ts';
import { openOnce } from './opened.ts';
import type { Plan } from './plan.ts';
import type { BriefRow, CaseHead, CaseRow } from './rows.ts';
import type { CaseEventsTable } from './schema.ts';
import { openJson, openSealed, type SealKey, seal, sealJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { one, type Steps } from './statement.ts';
import { StoreError } from './store-error.ts';

/** Where every chain begins. */
export const chainStart: Buffer = Buffer.alloc(32);

/** A fold of an earlier version, or of another history, does not open in the row. */
export function foldBound(caseId: string, version: number, head: Uint8Array): string {
  return `fold:${caseId}:${version}:${Buffer.from(head).toString('base64url')}`;
}

export function tagBound(caseId: string): string {
  return `tag:${caseId}`;
}

export function recordBound(caseId: string, sequence: number): string {
  return `record:${caseId}:${sequence}`;
}

/**
 * Chain hash of one record: SHA-256 over a secret, the hash before it, what stands in plain columns, and the sealed
 * bytes. The lengths of both parts come before them, so that no hash can be carried on to longer ones.
 */
export function chainHash(ring: KeyRing, row: CaseEventsTable, flow: string): Buffer {
  const { case_id, sequence, at, by_id, event_id, sealed, previous } = row;
  const plain = Buffer.from(JSON.stringify([sealed.length, case_id, sequence, at, by_id, event_id, flow]));
  const length = Buffer.from(`${plain.length}:`);
  return Buffer.from(hash('sha256', Buffer.concat([ring.chain, previous, length, plain, sealed]), 'hex'), 'hex');
}

function flowBound(caseId: string, sequence: number): string {
  return `flow:${caseId}:${sequence}`;
}

/** The flow of a record as its column holds it: which flow ran tells what became of a patient. */
export function sealFlow(ring: KeyRing, caseId: string, sequence: number, flow: string): string {
  return seal(ring.flow, flow, flowBound(caseId, sequence)).toString('base64url');
}

/** The flow of a record. Throws `unreadable`. */
export function flowOf(ring: KeyRing, { case_id, sequence, flow }: CaseEventsTable): string {
  return openSealed(ring.flow, Buffer.from(flow, 'base64url'), flowBound(case_id, sequence)).toString('utf8');
}

/** The case of a row; null when its key was destroyed. */
export function caseOf(context: Context, row: CaseRow): { value: Case; version: number } | null {
  const key = context.keys.unwrap(caseKeyId(row.id), row);
  if (!key) {
    context.memory.folds.forget(row.id);
    return null;
  }
  keepHead(context, row);
  const bound = foldBound(row.id, row.version, row.head);
  return { value: openOnce(context.memory.folds, row.id, key, row.fold_sealed, bound), version: row.version };
}

/** Remembers what the row says besides its fold: the next change of the case goes on from it. */
export function keepHead(context: Context, row: CaseRow): void {
  const { version, head, sequence, site_id, owner_id, status, open, codes, patient_mark, earlier_id } = row;
  const listed = { site_id, owner_id, status, open, codes, patient_mark, earlier_id };
  context.memory.heads.put(row.id, { version, head: { head, sequence, ...listed } });
}

/** Stands for initials that do not open: the case is listed all the same. */
const shutTag = '?';

/** One line about an open case, from columns and its tag; null when its key was destroyed. */
export function briefOf(context: Context, row: BriefRow): CaseBrief | null {
  let tag = context.memory.tags.get(row.id);
  if (!tag || Buffer.compare(tag.sealed, row.tag_sealed) !== 0) {
    if (row.destroyed_at !== null || row.wrapped === null) return null;
    const opened = ifOpens(() => {
      const key = context.keys.unwrap(caseKeyId(row.id), row);
      return key && openJson<string>(key, row.tag_sealed, tagBound(row.id));
    });
    tag = { sealed: row.tag_sealed, tag: opened ?? shutTag };
    context.memory.tags.put(row.id, tag);
  }
  return {
    id: row.id,
    tag: tag.tag,
    codes: row.codes === '' ? [] : row.codes.split(' '),
    siteId: row.site_id,
    ownerId: row.owner_id,
    status: row.status,
    dueAt: row.due_at,
  };
}

/** What is sealed of one record. `heard`: the words that led to the first record of a change. */
export interface SealedRecord {
  readonly event: CaseEvent;
  readonly heard?: SealedText;
}

/**
 * Plans to write a case and the records that led to it. `conflict`: somebody else wrote it meanwhile, or a code is taken.
 * Throws `broken-history` when the records do not go on where the history ends.
 */
export function* putCase(
  context: Context,
  plan: Plan,
  put: ChangeSet['cases'][number],
  heard: SealedText | null,
): Steps<Ended> {
  const { value, version, records } = put;
  const keyId = caseKeyId(value.id);
  const before = version === null ? null : yield* headOf(context, value.id, version);
  if (version !== null && before === null) return 'conflict';
  const key =
    version === null
      ? yield* context.keys.make(keyId, value.programmeId)
      : yield* context.keys.obtain(keyId, value.programmeId);
  const rows = recordRows(context, key, value, before, records, heard);
  const head = rows.at(-1)?.hash ?? before?.head ?? chainStart;
  putFold(context, plan, key, put, before, head);
  for (const row of rows) plan.must(context.hot.insertCaseEvent, row, 'conflict');
  putCodes(context, plan, value, records);
  return 'committed';
}

/** What the case's row says besides its fold, at the version that was read; null when it has moved on. */
function* headOf(context: Context, caseId: string, version: number): Steps<CaseHead | null> {
  const kept = context.memory.heads.get(caseId);
  if (kept?.version === version) return kept.head;
  return (yield* one(context.hot.caseHead, { id: caseId, version })) ?? null;
}

function recordRows(
  context: Context,
  key: SealKey,
  value: Case,
  before: CaseHead | null,
  records: readonly CaseRecord[],
  heard: SealedText | null,
): readonly CaseEventsTable[] {
  let previous = before?.head ?? chainStart;
  let sequence = before?.sequence ?? 0;
  const rows: CaseEventsTable[] = [];
  for (const record of records) {
    sequence += 1;
    if (record.sequence !== sequence || record.caseId !== value.id) throw new StoreError('broken-history', value.id);
    const part: SealedRecord =
      heard !== null && rows.length === 0 ? { event: record.event, heard } : { event: record.event };
    const row = {
      case_id: value.id,
      sequence,
      programme_id: value.programmeId,
      at: record.at,
      by_id: record.by,
      event_id: record.eventId,
      flow: sealFlow(context.ring, value.id, sequence, record.flow),
      previous,
      hash: previous,
      sealed: sealJson(key, part, recordBound(value.id, sequence)),
    };
    row.hash = chainHash(context.ring, row, record.flow);
    previous = row.hash;
    rows.push(row);
  }
  if (value.sequence !== sequence) throw new StoreError('broken-history', value.id);
  return rows;
}

/** The case's mark as its row holds it. */
export function markOf(ring: KeyRing, of: Case): Buffer | null {
  const key = patientKeyOf(of);
  return key && patientMark(ring, of.programmeId, key);
}

function saysWho({ event }: CaseRecord): boolean {
  return event.type === 'opened' || (event.type === 'answered' && event.field.startsWith('patient.'));
}

/** Plans the row of the case, the columns of the lists only when one of them changed. */
function putFold(
  context: Context,
  plan: Plan,
  key: SealKey,
  { value, version, records }: ChangeSet['cases'][number],
  before: CaseHead | null,
  head: Buffer,
): void {
  const open = value.status !== 'closed';
  const listed = {
    site_id: value.siteId,
    owner_id: value.ownerId,
    status: value.status,
    open: open ? 1 : 0,
    codes: value.specimens.map((specimen) => specimen.code).join(' '),
    patient_mark: before && !records.some(saysWho) ? before.patient_mark : markOf(context.ring, value),
    earlier_id: value.earlierCaseId,
  };
  const next = (version ?? 0) + 1;
  const bound = foldBound(value.id, next, head);
  const sealed = sealJson(key, value, bound);
  const moving = {
    id: value.id,
    due_at: open ? context.dueAtOf(value) : null,
    sequence: value.sequence,
    head,
    fold_sealed: sealed,
  };
  plan.onceKept.push(({ heads, folds }) => {
    heads.put(value.id, { version: next, head: { ...listed, head, sequence: value.sequence } });
    folds.put(value.id, { bound, sealed, value });
  });
  const sealedTag = () => sealJson(key, value.tag, tagBound(value.id));
  if (!before || version === null) {
    const row = {
      ...moving,
      ...listed,
      tag_sealed: sealedTag(),
      programme_id: value.programmeId,
      opened_at: value.openedAt,
      wake_at: moving.due_at,
      version: 1,
    };
    plan.must(context.hot.insertCase, row, 'conflict');
    return;
  }
  const retagged = records.some(({ event }) => event.type === 'opened' || event.type === 'retagged');
  const unlisted =
    !retagged &&
    before.site_id === listed.site_id &&
    before.owner_id === listed.owner_id &&
    before.status === listed.status &&
    before.open === listed.open &&
    before.codes === listed.codes &&
    before.patient_mark === listed.patient_mark &&
    before.earlier_id === listed.earlier_id;
  if (unlisted) {
    plan.must(context.hot.touchCase, { ...moving, version }, 'conflict');
    return;
  }
  const tag_sealed = retagged ? sealedTag() : null;
  plan.must(context.hot.updateCase, { ...moving, ...listed, tag_sealed, version }, 'conflict');
}

/** A code once issued stays with its case for good, also when the specimen got another. */
function putCodes(context: Context, plan: Plan, value: Case, records: readonly CaseRecord[]): void {
  for (const { event } of records) {
    if (event.type !== 'code-issued') continue;
    const row = {
      programme_id: value.programmeId,
      code: event.code,
      case_id: value.id,
      specimen: event.specimen,
    };
    plan.must(context.hot.insertSpecimen, row, 'conflict');
  }
}
