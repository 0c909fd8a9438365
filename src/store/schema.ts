/** The tables as both engines hold them. Instants are epoch ms, lists and sealed values are JSON, flags are 0 or 1. */
import type { Generated } from 'kysely';
import type { CaseStatus } from '../case/case.ts';
import { type Lane, lanes } from '../conversation/effect.ts';
import type { MessageStatus } from '../line/ports.ts';

/** Facts about the database itself: key fingerprint, marks. */
export interface MetaTable {
  name: string;
  value: string;
}

export interface DataKeysTable {
  id: string;
  programme_id: string;
  /** Sealed under the wrapping key; null once destroyed. */
  wrapped: Buffer | null;
  destroyed_at: number | null;
}

export interface EventKeysTable {
  key: Buffer;
  programme_id: string;
  at: number;
}

export interface PeopleTable {
  id: string;
  programme_id: string;
  /** Separated by spaces. */
  roles: string;
  site_id: string;
  locale: string;
  rank: number;
  state: string;
  practised: number;
  shared: number;
  version: number;
  /** Version of the roster by which this row changed last. */
  changed_in: number;
  /** Name and addresses, under the person's key. */
  sealed: Buffer;
}

export interface AddressesTable {
  programme_id: string;
  hash: Buffer;
  person_id: string;
}

export interface RostersTable {
  programme_id: string;
  version: number;
}

export interface InvitationsTable {
  id: string;
  programme_id: string;
  person_id: string;
  valid_until: number;
  wrong_tries: number;
  used: number;
  /** The number, under the person's key. */
  sealed: Buffer;
}

export interface ConversationsTable {
  person_id: string;
  programme_id: string;
  version: number;
  changed_at: number;
  /** The state, under the person's key. */
  sealed: Buffer;
}

export interface CasesTable {
  id: string;
  programme_id: string;
  site_id: string;
  owner_id: string;
  status: CaseStatus;
  open: number;
  opened_at: number;
  due_at: number | null;
  /** `due_at` until the duty was spoken of, then null: what the pump looks at. */
  wake_at: number | null;
  version: number;
  sequence: number;
  /** Separated by spaces. */
  codes: string;
  /** Keyed hash of site, initials and sex; null for practice and for what was erased. */
  patient_mark: Buffer | null;
  /** The case that this one follows, of the same patient. */
  earlier_id: string | null;
  /** Chain hash of the last record. */
  head: Buffer;
  erased_at: number | null;
  tag_sealed: Buffer;
  fold_sealed: Buffer;
}

export interface CaseEventsTable {
  case_id: string;
  sequence: number;
  programme_id: string;
  at: number;
  by_id: string;
  event_id: string;
  /** Sealed under the line's own key. */
  flow: string;
  previous: Buffer;
  hash: Buffer;
  /** The event and the words that led to it, under the case's key. */
  sealed: Buffer;
}

export interface SpecimensTable {
  programme_id: string;
  code: string;
  case_id: string;
  specimen: string;
}

export interface QuestionsTable {
  id: string;
  programme_id: string;
  case_id: string | null;
  tag: string;
  /** 1 = somebody must hear at once: an alarm is found without opening anything. */
  now: number;
  asked_by: string;
  opened_at: number;
  rung: number;
  asked_of: string;
  answered_at: number | null;
  answered_by: string | null;
  promise_until: number | null;
  key_id: string;
  /** What it is about, words, choices and answer. */
  sealed: Buffer;
}

export interface DueTable {
  id: string;
  programme_id: string;
  person_id: string | null;
  case_id: string | null;
  name: string;
  frame_id: string | null;
  due_at: number;
  /** From when it was set until it is due, ms; null = not kept then. */
  wait: number | null;
  claimed_by: string | null;
  lease_until: number | null;
  /** What a timer is, as JSON; anything else is sealed. */
  timer: string | null;
  key_id: string | null;
  sealed: Buffer | null;
}

export interface MessagesTable {
  seq: Generated<number>;
  id: string;
  programme_id: string;
  direction: 'in' | 'out';
  at: number;
  person_id: string | null;
  case_id: string | null;
  /** Person id, or the address hash of a stranger: the order of texts is kept within it. */
  recipient: string;
  status: MessageStatus | 'received';
  lane: number;
  not_before: number;
  valid_until: number;
  tries: number;
  safety: number;
  segments: number;
  network_at: number | null;
  handed_at: number | null;
  reported_at: number | null;
  provider_id: string | null;
  claimed_by: string | null;
  lease_until: number | null;
  key_id: string;
  /** Address, text and what else would tell a reader something; empty when a record of the case holds it. */
  sealed: Buffer;
  /** Link that carries it; null in what was stored before this was kept. */
  channel: string | null;
  /** Until when a text of unknown fate waits for its report. */
  doubt_until: Generated<number | null>;
  /** How often it went out again because its fate was unknown. */
  doubts: Generated<number>;
  /** 0 = the first of an alarm, goes before the rest of its lane; 1 = anything else. */
  place: Generated<number>;
  /** Keyed hash of what it is about; null in what came in or was stored before this was kept. */
  subject: string | null;
}

export interface StrangerDaysTable {
  programme_id: string;
  day: string;
  answers: number;
}

export interface SiteStocksTable {
  programme_id: string;
  site_id: string;
  version: number;
  /** What the site has in hand, as JSON: nothing about a patient. */
  stock: string;
}

export interface ParkedTable {
  id: string;
  programme_id: string;
  at: number;
  code: string;
  key_id: string;
  sealed: Buffer;
}

export interface FlowsTable {
  hash: string;
  flow: string;
  json: string;
  at: number;
}

/** A head over all chains: what was there at one instant, sealed by the chain key. */
export interface HeadsTable {
  number: number;
  at: number;
  /** Cases whose chain went on since the head before. */
  cases: number;
  previous: Buffer;
  hash: Buffer;
}

/** How far the chain of a case was at a head. */
export interface HeadCasesTable {
  number: number;
  case_id: string;
  sequence: number;
}

/** Keys of cases and people that were destroyed. */
export interface ErasuresTable {
  key_id: string;
  programme_id: string;
  at: number;
  reason: string;
}

/** Who looked at a whole case from the command line. */
export interface CaseLooksTable {
  number: Generated<number>;
  case_id: string;
  at: number;
  by: string;
}

/** Who agreed to which value of a programme. */
export interface SignaturesTable {
  number: Generated<number>;
  programme_id: string;
  item: string;
  /** Of the value that was signed. */
  hash: string;
  at: number;
  /** Name and role, under a key of the line. */
  sealed: Buffer;
}

export interface Tables {
  meta: MetaTable;
  data_keys: DataKeysTable;
  event_keys: EventKeysTable;
  people: PeopleTable;
  addresses: AddressesTable;
  rosters: RostersTable;
  invitations: InvitationsTable;
  conversations: ConversationsTable;
  cases: CasesTable;
  case_events: CaseEventsTable;
  specimens: SpecimensTable;
  questions: QuestionsTable;
  due: DueTable;
  messages: MessagesTable;
  stranger_days: StrangerDaysTable;
  site_stocks: SiteStocksTable;
  parked: ParkedTable;
  flow_versions: FlowsTable;
  heads: HeadsTable;
  head_cases: HeadCasesTable;
  erasures: ErasuresTable;
  case_looks: CaseLooksTable;
  signatures: SignaturesTable;
}

/** Place of a lane in the order of sending, 0 first. */
export function laneRank(lane: Lane): number {
  return lanes.indexOf(lane);
}

/** The lane at a place; an unknown place is the last lane. */
export function laneAt(rank: number): Lane {
  return lanes[rank] ?? 'reminder';
}

/** How far a text has come. A status is never followed by one of the same or a lower rank. */
export const statusRank: Readonly<Record<MessageStatus | 'received', number>> = {
  queued: 0,
  sending: 1,
  unsure: 2,
  handed: 3,
  sent: 4,
  delivered: 5,
  // A long text is reported by its parts: one that failed is final, also after another was delivered.
  failed: 6,
  expired: 5,
  replaced: 5,
  received: 5,
};
