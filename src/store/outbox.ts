/** Texts that wait to be sent: claimed head of line by person, settled, reported, recovered. */
import { type Kysely, type RawBuilder, sql } from 'kysely';
import type { DueWhat } from '../conversation/event.ts';
import type { MessageStatus, OutboundMessage, OutboxRow } from '../line/ports.ts';
import type { Context } from './context.ts';
import type { WrappedKey } from './data-keys.ts';
import type { Dialect } from './dialects/dialect.ts';
import { type LinkStatements, spendCredit } from './links.ts';
import { messageBound, type SealedText } from './messages.ts';
import type { Recent } from './recent.ts';
import { laneAt, type MessagesTable, statusRank, type Tables } from './schema.ts';
import { openJson } from './seal.ts';
import { ifOpens } from './shut.ts';
import { all, change, one, reading, rowsAtMost, type Steps, slot, writing } from './statement.ts';
import { clocksDifferMs, leaseMs } from './waits.ts';

/** Newest messages looked through for a day's figure. */
const messagesLookedAt = 50_000;

export type OutboxStatements = ReturnType<typeof outboxStatements>;

type ClaimRow = Omit<MessagesTable, 'place'> & { seq: number; place: number } & WrappedKey;
/** A text that could be claimed, as far as its order needs it. */
type HeadRow = Pick<ClaimRow, 'seq' | 'recipient' | 'lane' | 'place' | 'channel'>;
type StatusRow = Pick<
  MessagesTable,
  | 'status'
  | 'claimed_by'
  | 'handed_at'
  | 'programme_id'
  | 'person_id'
  | 'case_id'
  | 'safety'
  | 'segments'
  | 'channel'
  | 'valid_until'
  | 'recipient'
  | 'subject'
> & { seq: number };

const statusColumns = [
  'status',
  'claimed_by',
  'handed_at',
  'programme_id',
  'person_id',
  'case_id',
  'safety',
  'segments',
  'channel',
  'valid_until',
  'recipient',
  'subject',
  'seq',
] as const;

/** Somebody who was not reached twice within this time is reported once, ms. Line convention. */
const toldLatelyMs = 12 * 3_600_000;

/**
 * `m` waits for `h`, another text to the same person, when `h` is on its way (an SOS waits for an SOS only), stands
 * before it in the same lane, or stands in a more urgent lane. A text that its network asked to send later keeps its
 * place: it holds back its own lane, notices and reminders, but neither an SOS nor a reply behind an SOS, and nothing that
 * goes by another link: the copy of a text whose own link is down must not wait for it.
 */
function outboxConditions() {
  const before = sql`(h.place < m.place or (h.place = m.place and h.seq < m.seq))`;
  const ahead = sql`(h.lane < m.lane or (h.lane = m.lane and ${before}))`;
  const onItsWay = sql`(h.status = 'sending' and (m.lane > 0 or h.lane = 0))`;
  const sameLink = sql`coalesce(h.channel, '') = coalesce(m.channel, '')`;
  const holdsBack = sql`(h.tries > 0 and ${sameLink} and (h.lane = m.lane or m.lane >= 2))`;
  return { ahead, onItsWay, holdsBack };
}

export function outboxStatements(db: Kysely<Tables>, dialect: Dialect) {
  const { ahead, onItsWay, holdsBack } = outboxConditions();
  const waiting = sql`h.recipient = m.recipient and h.status in ('queued', 'sending')`;
  // What is held back itself holds back nobody. `in (...)` beside `=` is the condition of the partial index.
  const isHeld = sql`exists (select 1 from messages as g where g.recipient = h.recipient
    and g.status in ('queued', 'sending') and g.status = 'queued' and g.tries > 0 and g.lane = h.lane
    and coalesce(g.channel, '') = coalesce(h.channel, '') and g.not_before > ${slot('now')} and (g.place < h.place or (g.place = h.place and g.seq < h.seq)))`;
  const free = sql`m.status = 'queued' and m.not_before <= ${slot('now')}
    and not exists (select 1 from messages as h where ${waiting} and (${onItsWay} or (h.status = 'queued'
      and ${ahead} and ((h.not_before <= ${slot('now')} and not ${isHeld}) or ${holdsBack}))))`;
  const newer = sql`exists (select 1 from messages as h where h.recipient = messages.recipient
    and h.status in ('queued', 'sending') and h.subject = messages.subject and h.seq > messages.seq)`;
  // Two lines do not read their clocks at one instant. Held for longer than that explains: the clock was set back.
  const farOff = sql`lease_until - cast(${slot('now')} as bigint) > ${sql.lit(leaseMs + clocksDifferMs)}`;
  const isOver = sql`(lease_until <= ${slot('now')} or ${farOff})`;
  const recovering = (which: RawBuilder<unknown>) => sql`update messages set status = case when ${newer} then 'replaced'
        when safety = 1 and valid_until >= ${slot('now')} then 'queued' else 'unsure' end,
        claimed_by = null, lease_until = null where status in ('queued', 'sending') and status = 'sending' and ${which}`;
  return {
    overdue: reading<{ now: number }, { id: string }>(
      'outboxOverdue',
      sql`select id from messages where status = 'queued' and not_before <= ${slot('now')}
        and valid_until < ${slot('now')} limit 200`.compile(db),
    ),
    missedLately: reading<{ person_id: string; id: string; since: number }, { id: string }>(
      'outboxMissedLately',
      sql`select id from messages where person_id = ${slot('person_id')} and id <> ${slot('id')}
        and status in ('failed', 'expired') and safety = 1 and coalesce(reported_at, at) >= ${slot('since')} limit 1`.compile(
        db,
      ),
    ),
    heads: reading<{ now: number; limit: number }, HeadRow>(
      'outboxHeads',
      sql`select m.seq, m.recipient, m.lane, m.place, m.channel from messages as m where ${free}
        order by m.lane, m.place, m.seq limit ${rowsAtMost('limit')}`.compile(db),
    ),
    take: reading<{ now: number; seqs: string }, ClaimRow>(
      'outboxTake',
      sql`select m.*, k.wrapped, k.destroyed_at from messages as m left join data_keys as k on k.id = m.key_id
        where m.seq in ${dialect.numbers(slot('seqs'))} and ${free} ${dialect.claim}`.compile(db),
    ),
    claim: writing<{ seqs: string; owner: string; lease_until: number }>(
      'outboxClaim',
      sql`update messages set status = 'sending', tries = tries + 1, claimed_by = ${slot('owner')},
        lease_until = ${slot('lease_until')} where seq in ${dialect.numbers(slot('seqs'))}`.compile(db),
    ),
    next: reading<Record<string, never>, { at: number | null }>(
      'outboxNext',
      sql`select min(m.not_before) as at from messages as m where m.status = 'queued'
        and not exists (select 1 from messages as h where ${waiting} and (${onItsWay} or (h.status = 'queued'
          and ${ahead} and h.not_before > m.not_before and ${holdsBack})))`.compile(db),
    ),
    queues: reading<Record<string, never>, { lane: number; texts: number; oldest: number }>(
      'outboxQueues',
      sql`select lane, count(*) as texts, min(at) as oldest from messages
        where status in ('queued', 'sending') group by lane order by lane`.compile(db),
    ),
    since: reading<{ at: number }, { texts: number }>(
      'outboxSince',
      sql`select count(*) as texts from messages where direction = 'out' and at >= ${slot('at')}
        and seq > (select coalesce(max(seq), 0) from messages) - ${sql.lit(messagesLookedAt)}`.compile(db),
    ),
    status: reading<{ id: string }, StatusRow>(
      'outboxStatus',
      db
        .selectFrom('messages')
        .select(statusColumns)
        .where('id', '=', slot('id'))
        .where(sql<boolean>`direction = 'out'`),
    ),
    settle: writing<{
      id: string;
      before: string;
      status: string;
      handed_at: number | null;
      not_before: number | null;
      provider_id: string | null;
    }>(
      'outboxSettle',
      sql`update messages set status = ${slot('status')}, handed_at = ${slot('handed_at')}, claimed_by = null,
        lease_until = null, not_before = coalesce(${slot('not_before')}, not_before),
        provider_id = coalesce(${slot('provider_id')}, provider_id)
        where id = ${slot('id')} and status = ${slot('before')}`.compile(db),
    ),
    report: writing<{ id: string; before: string; status: string; at: number }>(
      'outboxReport',
      sql`update messages set status = ${slot('status')}, reported_at = ${slot('at')}
        where id = ${slot('id')} and status = ${slot('before')}`.compile(db),
    ),
    recover: writing<{ now: number; owner: string }>(
      'outboxRecover',
      recovering(
        dialect.alone ? sql`${slot('owner')} is not null` : sql`(${isOver} or claimed_by = ${slot('owner')})`,
      ).compile(db),
    ),
    takeOver: writing<{ now: number; owner: string }>(
      'outboxTakeOver',
      recovering(sql`${isOver} and claimed_by <> ${slot('owner')}`).compile(db),
    ),
  };
}

/** Rebuilds the text from its row; null when it does not open: its key was destroyed, or it is damaged. */
function outboundOf(context: Context, row: ClaimRow): OutboundMessage | null {
  const part = ifOpens(() => {
    const key = context.keys.unwrap(row.key_id, row);
    return key && openJson<SealedText>(key, row.sealed, messageBound(row.id));
  });
  if (!part) return null;
  const more = part.more ?? { encoding: 'UCS-2', flow: '', step: '', code: null, ask: null };
  return {
    id: row.id,
    to: part.address,
    personId: row.person_id,
    caseId: row.case_id,
    at: row.at,
    lane: laneAt(row.lane),
    text: part.text,
    segments: row.segments,
    ...more,
    validUntil: row.valid_until,
    notBefore: row.not_before,
    safety: row.safety === 1,
    ...(row.place === 0 ? { first: true as const } : {}),
  };
}

/** When each recipient was served last, by a count that grows; those not known were served longest ago. */
export interface Served {
  readonly last: Recent<string, number>;
  count: number;
}

/** Texts that are looked at to choose from: more people than are served in a minute. */
const lookedAt = 512;

/** The most urgent first; of one lane the first texts of alarms, then people in turn. */
function chosenFrom(
  heads: readonly HeadRow[],
  served: Served,
  limit: number,
  room: Readonly<Record<string, number>>,
): readonly HeadRow[] {
  const turns = new Map(heads.map((one) => [one.recipient, served.last.get(one.recipient) ?? 0]));
  const turnOf = (one: HeadRow): number => turns.get(one.recipient) ?? 0;
  const order = [...heads].sort(
    (a, b) => a.lane - b.lane || a.place - b.place || turnOf(a) - turnOf(b) || a.seq - b.seq,
  );
  const left = new Map(Object.entries(room));
  const chosen: HeadRow[] = [];
  for (const one of order) {
    const channel = one.channel ?? '';
    const free = left.get(channel) ?? limit;
    if (chosen.length >= limit || (free <= 0 && one.place > 0)) continue;
    left.set(channel, free - 1);
    chosen.push(one);
  }
  return chosen;
}

/** Claims at most one text a person (an SOS may go beside another) in the order of `chosenFrom`. */
export function* claimOutbox(
  context: Context,
  statements: OutboxStatements,
  served: Served,
  by: {
    readonly owner: string;
    readonly now: number;
    readonly limit: number;
    readonly room: Readonly<Record<string, number>>;
  },
): Steps<readonly OutboxRow[]> {
  const { owner, now, limit } = by;
  for (const { id } of yield* all(statements.overdue, { now })) {
    yield* reportOutbox(context, statements, id, 'expired', now);
  }
  const heads = yield* all(statements.heads, { now, limit: lookedAt });
  const chosen = chosenFrom(heads, served, limit, by.room);
  if (chosen.length === 0) return [];
  const places = new Map(chosen.map((one, index) => [Number(one.seq), index]));
  const taken = yield* all(statements.take, { now, seqs: JSON.stringify([...places.keys()]) });
  const claimed: OutboxRow[] = [];
  const seqs: number[] = [];
  const rows = [...taken].sort((a, b) => places.get(Number(a.seq))! - places.get(Number(b.seq))!);
  for (const row of rows) {
    served.count += 1;
    served.last.put(row.recipient, served.count);
    const message = outboundOf(context, row);
    if (!message) {
      yield* change(statements.report, { id: row.id, before: 'queued', status: 'expired', at: now });
      continue;
    }
    seqs.push(row.seq);
    claimed.push({ message, status: 'sending', tries: row.tries + 1 });
  }
  if (seqs.length > 0) {
    yield* change(statements.claim, { seqs: JSON.stringify(seqs), owner, lease_until: now + leaseMs });
  }
  return claimed;
}

/** What became of one text. */
export interface Settled {
  readonly id: string;
  readonly status: MessageStatus;
  readonly at: number;
  readonly notBefore: number | null;
  readonly providerId: string | null;
}

/**
 * Writes what became of a claimed text. Only the claimant may put it back into the queue or call it unsure; a report
 * that came in before the answer keeps its status, and the instant of handing over is still noted.
 */
export function* settleOutbox(
  context: Context,
  statements: OutboxStatements,
  links: LinkStatements,
  owner: string,
  by: Settled,
): Steps<void> {
  const row = yield* one(statements.status, { id: by.id });
  if (!row || row.status === 'received') return;
  const mine = row.status === 'sending' && row.claimed_by === owner;
  const forward = statusRank[by.status] > statusRank[row.status] && (row.status !== 'sending' || mine);
  const handedNow = by.status === 'handed' || by.status === 'sent' || by.status === 'delivered';
  const handedAt = row.handed_at ?? (handedNow ? by.at : null);
  const status = mine || forward ? yield* statusNow(context, row, by) : row.status;
  if (status === row.status && handedAt === row.handed_at) return;
  yield* change(statements.settle, {
    id: by.id,
    before: row.status,
    status,
    handed_at: handedAt,
    not_before: mine ? by.notBefore : null,
    provider_id: by.providerId,
  });
  // Paid for when it was handed over, also when it is handed over a second time.
  if (handedNow && row.channel !== null) yield* spendCredit(links, row.channel, row.segments);
  if (status === 'failed') yield* missed(context, statements, row, by.id, by.at);
}

/** A text that goes back into the queue finds its place taken when a later one about the same waits there. */
function* statusNow(context: Context, row: StatusRow, { id, status }: Settled): Steps<MessageStatus> {
  if (status !== 'queued' || row.subject === null) return status;
  const { recipient, subject, seq } = row;
  return (yield* one(context.hot.newer, { recipient, subject, id, seq })) === undefined ? 'queued' : 'replaced';
}

/** Moves a text forward by a delivery report. False: unknown, or no step forward. */
export function* reportOutbox(
  context: Context,
  statements: OutboxStatements,
  id: string,
  status: 'sent' | 'delivered' | 'failed' | 'expired',
  at: number,
): Steps<boolean> {
  const row = yield* one(statements.status, { id });
  if (!row || statusRank[status] <= statusRank[row.status]) return false;
  const moved = (yield* change(statements.report, { id, before: row.status, status, at })) === 1;
  if (moved && (status === 'failed' || status === 'expired')) yield* missed(context, statements, row, id, at);
  return moved;
}

/** A text that mattered did not arrive: an event says so, in the same commit. */
function* missed(context: Context, statements: OutboxStatements, row: StatusRow, id: string, at: number): Steps<void> {
  if (row.safety !== 1 || row.person_id === null) return;
  const since = at - toldLatelyMs;
  const again = (yield* one(statements.missedLately, { person_id: row.person_id, id, since })) !== undefined;
  const what: DueWhat = { kind: 'undelivered', messageId: id, to: row.person_id, again };
  yield* change(context.hot.insertDue, {
    id: `undelivered:${id}`,
    programme_id: row.programme_id,
    person_id: null,
    case_id: row.case_id,
    name: what.kind,
    frame_id: null,
    due_at: at,
    wait: 0,
    key_id: null,
    timer: JSON.stringify(what),
    sealed: null,
  });
}
