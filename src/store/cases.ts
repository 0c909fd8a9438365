/** Cases: the fold with its indexed columns, and the chained history. */
import { createHmac } from 'node:crypto';
import type { Case } from '../case/case.ts';
import type { CaseRecord } from '../case/events.ts';
import type { CaseBrief } from '../conversation/world.ts';
import type { ChangeSet } from '../line/ports.ts';
import type { Context } from './context.ts';
import { caseKeyId } from './data-keys.ts';
import type { Ended } from './dialects/dialect.ts';
import type { BriefRow, CaseHead, CaseRow } from './hot.ts';
import type { KeyRing } from './keys.ts';
import type { CaseEventsTable } from './schema.ts';
import { openJson, type SealKey, sealJson } from './seal.ts';
import { change, one, type Steps } from './statement.ts';
import { StoreError } from './store-error.ts';

/** Where every chain begins. */
export const chainStart: Buffer = Buffer.alloc(32);

export function foldBound(caseId: string): string {
  return `fold:${caseId}`;
}

export function tagBound(caseId: string): string {
  return `tag:${caseId}`;
}

export function recordBound(caseId: string, sequence: number): string {
  return `record:${caseId}:${sequence}`;
}

/** Chain hash of one record: over the hash before it, what stands in plain columns, and the sealed bytes. */
export function chainHash(ring: KeyRing, row: CaseEventsTable): Buffer {
  return createHmac('sha256', ring.chain)
    .update(row.previous)
    .update(JSON.stringify([row.case_id, row.sequence, row.at, row.by_id, row.event_id, row.flow]))
    .update(row.sealed)
    .digest();
}

/** The case of a row; null when its key was destroyed. */
export function caseOf(context: Context, row: CaseRow): { value: Case; version: number } | null {
  const key = context.keys.unwrap(caseKeyId(row.id), row);
  if (!key) return null;
  return { value: openJson<Case>(key, row.fold_sealed, foldBound(row.id)), version: row.version };
}

/** One line about an open case, from columns and its tag. */
export function briefOf(context: Context, row: BriefRow): CaseBrief | null {
  let tag = context.memory.tags.get(row.id);
  if (!tag || Buffer.compare(tag.sealed, row.tag_sealed) !== 0) {
    const key = context.keys.unwrap(caseKeyId(row.id), row);
    if (!key) return null;
    tag = { sealed: row.tag_sealed, tag: openJson<string>(key, row.tag_sealed, tagBound(row.id)) };
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

/**
 * Writes a case and the records that led to it. `conflict`: somebody else wrote it meanwhile, or a code is taken.
 * Throws `broken-history` when the records do not go on where the history ends.
 */
export function* putCase(context: Context, put: ChangeSet['cases'][number]): Steps<Ended> {
  const { value, version, records } = put;
  const keyId = caseKeyId(value.id);
  let before: CaseHead | undefined;
  if (version === null) {
    yield* context.keys.make(keyId, value.programmeId);
  } else {
    before = yield* one(context.hot.caseHead, { id: value.id, version });
    if (!before) return 'conflict';
  }
  const key = yield* context.keys.obtain(keyId, value.programmeId);
  const rows = recordRows(context, key, value, before, records);
  const head = rows.at(-1)?.hash ?? before?.head ?? chainStart;
  if ((yield* putFold(context, key, put, before, head)) !== 1) return 'conflict';
  for (const row of rows) {
    if ((yield* change(context.hot.insertCaseEvent, row)) !== 1) return 'conflict';
  }
  return yield* putCodes(context, value, records);
}

function recordRows(
  context: Context,
  key: SealKey,
  value: Case,
  before: CaseHead | undefined,
  records: readonly CaseRecord[],
): readonly CaseEventsTable[] {
  let previous = before?.head ?? chainStart;
  let sequence = before?.sequence ?? 0;
  const rows: CaseEventsTable[] = [];
  for (const record of records) {
    sequence += 1;
    if (record.sequence !== sequence || record.caseId !== value.id) throw new StoreError('broken-history', value.id);
    const row = {
      case_id: value.id,
      sequence,
      programme_id: value.programmeId,
      at: record.at,
      by_id: record.by,
      event_id: record.eventId,
      flow: record.flow,
      previous,
      hash: previous,
      sealed: sealJson(key, record.event, recordBound(value.id, sequence)),
    };
    row.hash = chainHash(context.ring, row);
    previous = row.hash;
    rows.push(row);
  }
  if (value.sequence !== sequence) throw new StoreError('broken-history', value.id);
  return rows;
}

/** Writes the row of the case, the columns of the lists only when one of them changed. Gives the count of rows. */
function* putFold(
  context: Context,
  key: SealKey,
  { value, version, records }: ChangeSet['cases'][number],
  before: CaseHead | undefined,
  head: Buffer,
): Steps<number> {
  const open = value.status !== 'closed';
  const listed = {
    site_id: value.siteId,
    owner_id: value.ownerId,
    status: value.status,
    open: open ? 1 : 0,
    codes: value.specimens.map((specimen) => specimen.code).join(' '),
  };
  const moving = {
    id: value.id,
    due_at: open ? context.dueAtOf(value) : null,
    sequence: value.sequence,
    head,
    fold_sealed: sealJson(key, value, foldBound(value.id)),
  };
  const sealedTag = () => sealJson(key, value.tag, tagBound(value.id));
  if (!before || version === null) {
    return yield* change(context.hot.insertCase, {
      ...moving,
      ...listed,
      tag_sealed: sealedTag(),
      programme_id: value.programmeId,
      opened_at: value.openedAt,
      wake_at: moving.due_at,
      version: 1,
    });
  }
  const retagged = records.some(({ event }) => event.type === 'opened' || event.type === 'retagged');
  const unlisted =
    !retagged &&
    before.site_id === listed.site_id &&
    before.owner_id === listed.owner_id &&
    before.status === listed.status &&
    before.open === listed.open &&
    before.codes === listed.codes;
  if (unlisted) return yield* change(context.hot.touchCase, { ...moving, version });
  const tag_sealed = retagged ? sealedTag() : null;
  return yield* change(context.hot.updateCase, { ...moving, ...listed, tag_sealed, version });
}

/** A code once issued stays with its case for good, also when the specimen got another. */
function* putCodes(context: Context, value: Case, records: readonly CaseRecord[]): Steps<Ended> {
  for (const { event } of records) {
    if (event.type !== 'code-issued') continue;
    const changed = yield* change(context.hot.insertSpecimen, {
      programme_id: value.programmeId,
      code: event.code,
      case_id: value.id,
      specimen: event.specimen,
    });
    if (changed !== 1) return 'conflict';
  }
  return 'committed';
}
