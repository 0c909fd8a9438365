/** What the line needs from the outside. Only plain data crosses these ports; no transaction object does. */
import type { Case } from '../case/case.ts';
import type { CaseRecord } from '../case/events.ts';
import type { PatientKey } from '../case/same-patient.ts';
import type { SiteStock } from '../case/stock.ts';
import type { Lane, RosterChange, ShownAsk } from '../conversation/effect.ts';
import type { Due, LineEvent } from '../conversation/event.ts';
import type { FlowSet } from '../conversation/flow.ts';
import type { Bare } from '../conversation/plight.ts';
import type { ConversationState, Question } from '../conversation/state.ts';
import type { Address, CaseBrief, Doing, Invitation, Lost, Overview, Person } from '../conversation/world.ts';
import type { Way } from './way.ts';

/** Milliseconds since 1970 UTC. */
export type EpochMs = number;

export interface Clock {
  now(): EpochMs;
}

/** Milliseconds that grow with time whatever happens to the clock; their zero means nothing. */
export type Steady = () => number;

export interface Random {
  /** `count` fresh bytes, not guessable by anybody outside (seeded in `play`). */
  bytes(count: number): Uint8Array;
}

/** Space that is held back on the disk, so that alarms are stored when it is full. */
export interface Spare {
  /** True while what was held back is in use: only alarms are stored. */
  readonly inUse: boolean;
  /** The disk is full: gives back what was held. False: nothing was. */
  release(): boolean;
  /** Holds it back again where there is room. True: it is held. */
  refill(): boolean;
  /** What the disk still takes, bytes; null = not known. */
  freeBytes(): number | null;
}

/** With less space the next days are not safe, bytes. Our convention. */
export const freeAtLeastBytes = 100_000_000;

/** A call that could not be read is a fault for so long, ms: texts may be lost until the mapping is right. Our convention. */
export const unreadableForMs = 3_600_000;

/** Marks of the store about copies, each an instant, `faults` a count: when one was made, failed, is waited for since. */
export const backupMarks = {
  made: 'backup-made',
  faults: 'backup-faults',
  failed: 'backup-failed',
  awaited: 'backup-awaited',
} as const;

/** Fields that may stand in a log: ids, codes, durations, counts. Another name does not compile and is left out. */
export const logFields = [
  'at',
  'cases',
  'channel',
  'code',
  'count',
  'erased',
  'event',
  'eventId',
  'faults',
  'kind',
  'message',
  'ms',
  'port',
  'tries',
] as const;
export type LogField = (typeof logFields)[number];

/** A log line: an event name and allow-listed fields. Never texts, numbers or names. */
export interface Log {
  write(
    level: 'info' | 'warn' | 'error',
    event: string,
    fields?: Readonly<Partial<Record<LogField, string | number | boolean | null>>>,
  ): void;
}

/** One text to one person, rendered, so that sending it again sends the same. */
export interface OutboundMessage {
  /** `<eventId>:<n>`: derived, never random, so that a repeated commit cannot double it. */
  readonly id: string;
  readonly to: Address;
  readonly personId: string | null;
  readonly caseId: string | null;
  readonly at: EpochMs;
  readonly lane: Lane;
  readonly text: string;
  readonly segments: number;
  readonly encoding: 'GSM-7' | 'UCS-2';
  readonly flow: string;
  readonly step: string;
  /** Case code at the time, for transcripts; null before one is issued. */
  readonly code: string | null;
  readonly ask: ShownAsk | null;
  /** After this instant the text is not worth sending any more. */
  readonly validUntil: EpochMs;
  /** Not before this instant (reminders keep to daytime). */
  readonly notBefore: EpochMs;
  /** A text whose loss could hurt: sent again when it is unknown whether it went out. */
  readonly safety: boolean;
  /** Holds a full name: goes by this address or not at all. */
  readonly hereOnly?: true;
  /** A photo that is shown with the text, by the name that this network gave it. */
  readonly picture?: string;
  /** The first that somebody hears of an alarm: goes before everything that is said of alarms again. */
  readonly first?: true;
  /** What it is about: the next text about the same, to the same person, takes its place while it waits. */
  readonly subject?: string;
  /** What it takes the place of beside its own subject. */
  readonly replaces?: readonly string[];
}

/** `replaced`: a later text took its place before it went out. */
export type MessageStatus =
  | 'queued'
  | 'sending'
  | 'handed'
  | 'sent'
  | 'delivered'
  | 'failed'
  | 'unsure'
  | 'expired'
  | 'replaced';

/** A message as the history keeps it. */
export interface StoredMessage {
  readonly id: string;
  readonly direction: 'in' | 'out';
  readonly at: EpochMs;
  readonly personId: string | null;
  readonly address: Address;
  readonly text: string;
  readonly status: MessageStatus | 'received';
  readonly caseId: string | null;
  /** What is kept of a text of the line; null of one that came in. */
  readonly said: SaidText | null;
}

/** How a text of the line was said. `segments`: what it costs to send. */
export type SaidText = Pick<OutboundMessage, 'lane' | 'segments' | 'flow' | 'step' | 'ask'>;

/** What a channel says about one text it was asked to send. */
export type SendResult =
  | { readonly kind: 'sent'; readonly providerId?: string }
  /** Never: bad number, blocked, not allowed. */
  | { readonly kind: 'refused'; readonly why: string }
  /** Not now, but after so many ms. `why` `pace`: we hold it back ourselves, and nothing is wrong. */
  | { readonly kind: 'later'; readonly waitMs: number; readonly why: string }
  /** Asked and no answer: it may have gone out. */
  | { readonly kind: 'unsure'; readonly why: string };

/** One way to reach people. Adapters translate; they hold no conversation state. */
export interface Channel {
  readonly name: string;
  /** Longest text in one message; 0 = SMS, counted in segments. */
  readonly maxText: number;
  readonly buttons: boolean;
  /** Can show a photo that it brought before. */
  readonly images: boolean;
  /** Delivery reports come back. */
  readonly reports: boolean;
  /** Texts are paid for from a budget that coordinators state. */
  readonly prepaid?: boolean;
  /** Measured offset of the network's clock, ms; null = not measured. */
  clockOffsetMs?(): number | null;
  /** Texts that its pace leaves room for now, and ms until there is room for one; absent = it keeps to none. */
  room?(): { readonly free: number; readonly waitMs: number };
  /** True: the way that this text would go has had its texts of the day, so that a reminder waits. */
  isDayFull?(message: OutboundMessage): boolean;
  /** The ways by which it sends, the first one first; absent = one, of which no more is known than what became of its texts. */
  ways?(): readonly Way[];
  /** Segments that a way had sent on a day (YYYY-MM-DD) when the line ended: they count on. */
  restoreDay?(way: string, day: string, segments: number): void;
  /** For how long nothing could come in by it, ms; null = it listens, or is called and cannot know. */
  deafMs?(): number | null;
  send(message: OutboundMessage): Promise<SendResult>;
}

/** What the store knows about the sender and the matter of one event. */
export interface Loaded {
  /** True when one of the event's keys was handled before: nothing more is loaded. */
  readonly duplicate: boolean;
  readonly person: Person | null;
  readonly conversation: { readonly state: ConversationState; readonly version: number } | null;
  /** Cases named by the event, by the person's threads, or by codes in its text. */
  readonly cases: readonly { readonly value: Case; readonly version: number }[];
  /** Open cases of the person's site (workers), of the programme (doctors, coordinators: waiting ones), newest first. */
  readonly briefs: readonly CaseBrief[];
  /** Open questions: those asked of this person, and those of the loaded cases. */
  readonly questions: readonly Question[];
  /** Tags of questions in the programme that are open or were opened within the last day. */
  readonly tagsInUse: readonly string[];
  readonly invitation: Invitation | null;
  /** When each message named in the state was handed to its network (question order), null = not yet. */
  readonly handedAt: Readonly<Record<string, EpochMs | null>>;
  /** When each of them was reported to be on the phone, null = not yet or never. */
  readonly reportedAt: Readonly<Record<string, EpochMs | null>>;
  /** Names the question of the message of ours that the text quotes; null = it quotes none. */
  readonly quotedToken: string | null;
  /** Answers given today to all senders that nobody knows. */
  readonly strangersToday: number;
  /** This unknown sender got first aid today. */
  readonly firstAidGiven: boolean;
  /** Stock of every site; only for events about stock and for the overview. */
  readonly stocks: readonly { readonly value: SiteStock; readonly version: number }[];
  /** The line as a whole; only for `overview` events. */
  readonly overview: Overview | null;
  /** What the person did to cases lately, oldest first; only for a `standing` event that takes a phone off the line. */
  readonly doings: readonly Doing[];
  /** What the event or the conversation names and does not open. Cases of threads beyond those that are loaded are not lost. */
  readonly lost: Lost;
}

/** Everything that one event causes. It is committed together or not at all. */
export interface ChangeSet {
  readonly eventId: string;
  readonly programmeId: string;
  readonly at: EpochMs;
  /** One that is already there makes the whole change a duplicate. */
  readonly keys: readonly string[];
  readonly inbound: {
    readonly address: Address;
    readonly personId: string | null;
    readonly caseId: string | null;
    readonly text: string;
    readonly networkAt: EpochMs | null;
  } | null;
  readonly conversation: {
    readonly personId: string;
    readonly state: ConversationState;
    /** Version read; null = no row yet. */
    readonly version: number | null;
  } | null;
  readonly cases: readonly {
    readonly value: Case;
    /** Version read; null = new case. */
    readonly version: number | null;
    readonly records: readonly CaseRecord[];
  }[];
  readonly outbox: readonly OutboundMessage[];
  /** Timers and events for other people, due now or later. */
  readonly due: readonly Due[];
  readonly cancelDue: readonly { readonly personId: string; readonly frameId: string; readonly name: string | null }[];
  /** Held texts of a person that may go now. */
  readonly hurry: readonly { readonly personId: string; readonly name: string; readonly at: EpochMs }[];
  /** The due row that this event was. */
  readonly doneDue: string | null;
  readonly questions: readonly { readonly value: Question; readonly isNew: boolean }[];
  readonly people: readonly RosterChange[];
  /** Stocks of sites; another one written since they were read makes the change a conflict. */
  readonly stocks: readonly { readonly value: SiteStock; readonly version: number | null }[];
  /** Counts one answer to an unknown sender on this day (YYYY-MM-DD). */
  readonly strangerAnswer: string | null;
  /** Segments that may go out by a link from now on. */
  readonly credits: readonly { readonly channel: string; readonly segments: number }[];
  /** The event itself, kept for a human under a key that can be written, with the code of its fault. */
  readonly parked: { readonly event: LineEvent; readonly code: string } | null;
}

/**
 * `failed`: this change cannot be written, whatever it is tried with. `unavailable`: nothing can be written now (full
 * disk, read-only file, no connection); the change itself is not at fault and must come again.
 */
export type CommitOutcome = 'committed' | 'duplicate' | 'conflict' | 'failed' | 'unavailable';

/** A row whose handling failed twice; a human looks at it. */
export interface Parked {
  readonly id: string;
  readonly at: EpochMs;
  readonly event: LineEvent;
  readonly code: string;
  /** Whose text it was, or for whom it was due; null = nobody's that is known. */
  readonly personId: string | null;
}

/** What became of the last texts of one link, newest first, and what is left of its prepaid budget. */
export interface LinkFacts {
  readonly sent: readonly { readonly handedAt: EpochMs; readonly reportedAt: EpochMs | null }[];
  /** When the last text came in by it, among the newest; null = none. */
  readonly heardAt: EpochMs | null;
  /** When the oldest first aid or answer was said that has not gone out; null = none waits. */
  readonly waitingSince: EpochMs | null;
  /** Segments; null = nobody counts. */
  readonly credit: { readonly left: number; readonly granted: number } | null;
}

/**
 * How far a link can be trusted. `mute`: it never reports; `doubtful`: reports stopped coming; `slow`: texts wait; `deaf`:
 * nothing can come in by it; `clock`: its clock is off.
 */
export type LinkState = 'ok' | 'mute' | 'doubtful' | 'slow' | 'deaf' | 'clock';

/** How the line stands, in counts and instants: what a watching program asks for over and over. */
export interface Figures {
  /** Texts that have not gone out, by lane and link. */
  readonly queues: readonly {
    readonly lane: Lane;
    /** Null: stored before this was kept. */
    readonly channel: string | null;
    readonly texts: number;
    readonly oldestAt: EpochMs;
  }[];
  /** Rows that are due and not done, and since when the oldest of them is. */
  readonly late: { readonly rows: number; readonly oldestAt: EpochMs | null };
  readonly parked: { readonly events: number; readonly oldestAt: EpochMs | null };
  /** Alarms that no doctor answered, oldest first. */
  readonly alarms: readonly OpenAlarm[];
  /** All questions to doctors that nobody answered, alarms too. */
  readonly openQuestions: number;
  /** Open cases by status; practice is left out. */
  readonly cases: Readonly<Record<string, number>>;
}

export interface OpenAlarm {
  readonly openedAt: EpochMs;
  /** Doctors asked before the one who is asked now. */
  readonly rung: number;
  /** Somebody has it in hand until then. */
  readonly promiseUntil: EpochMs | null;
}

/** Counts what passes. Only ever adds; must never throw. */
export interface Meter {
  /** Something came in by a link; `ms` until it was durable and could be answered for. */
  heard(channel: string, outcome: 'done' | 'duplicate' | 'parked' | 'failed', ms: number): void;
  /** A link was asked to carry a text. */
  sent(channel: string, lane: Lane, outcome: SendResult['kind'], segments: number): void;
  /** A network said what became of a text. */
  reported(channel: string, status: 'sent' | 'delivered' | 'failed'): void;
}

/** Word to a person outside the links that something of the line needs somebody. Says nothing of any patient. */
export interface Alert {
  /** What it is about, a word that stays the same: `backup`, `link-sms`. */
  readonly what: string;
  readonly state: 'begun' | 'over';
  /** When it is said, when it began. */
  readonly at: EpochMs;
  readonly since: EpochMs;
  readonly text: string;
}

/** Brings an alert to its receiver. True: it was taken. Never rejects. */
export type PostAlert = (alert: Alert, signal: AbortSignal) => Promise<boolean>;

export interface OutboxRow {
  readonly message: OutboundMessage;
  readonly status: MessageStatus;
  readonly tries: number;
}

/** The store: two hot calls on plain data, and what the pumps and commands need. */
export interface Store {
  readonly engine: 'sqlite' | 'postgres';
  /**
   * What is known about these events. `flows`: their traits say what is read along. Rejects with an error of code
   * `unavailable` when nothing can be read now.
   */
  load(events: readonly LineEvent[], flows: FlowSet): Promise<readonly Loaded[]>;
  /**
   * Commits each change by itself, in order, in as few durable transactions as the engine allows.
   * A change that throws is rolled back alone and answers `failed`.
   */
  commit(changes: readonly ChangeSet[]): Promise<readonly CommitOutcome[]>;
  /** Cases of one site whose patients have these initials and this sex, open and closed, newest first, twenty at most. */
  casesAlike(programmeId: string, key: PatientKey): Promise<Loaded['cases']>;

  /** Everybody of the programme, those taken off the line too; erased people are not. Cached by roster version. */
  roster(programmeId: string): Promise<readonly Person[]>;
  /** Ids of people who have a conversation, those after `after` in order, at most `limit`. */
  talking(programmeId: string, after: string, limit: number): Promise<readonly string[]>;
  putPeople(people: readonly Person[]): Promise<void>;

  /** Codes issued in the programme, erased ones too; may lag behind by some events. */
  codesIssued(programmeId: string): Promise<number>;

  /** Due rows at or before `now`, oldest first; cases whose duty is overdue come as `overdue` events. */
  dueBefore(now: EpochMs, limit: number): Promise<readonly Due[]>;
  /** The next instant at which anything becomes due, or null. */
  nextDueAt(): Promise<EpochMs | null>;
  /** What becomes due first, all of one instant, at most `limit`. Takes nothing: only to say what comes. */
  firstDue(limit: number): Promise<readonly Due[]>;

  /**
   * Claims texts to send: head of line per person; by lane, what is the first of an alarm before the rest, then people in
   * turn, whoever was served longest ago first. Marked `sending`. `room`: texts that a channel takes at most now, by its
   * name; the first texts of an alarm go all the same.
   */
  claimOutbox(now: EpochMs, limit: number, room?: Readonly<Record<string, number>>): Promise<readonly OutboxRow[]>;
  /** After a jump of the clock: a wait longer than its reason allows (`longestWaitMs`) is brought back. Returns how many. */
  boundWaits(now: EpochMs): Promise<number>;
  /** A channel works again: what it put off goes now. */
  endWaits(channel: string, now: EpochMs): Promise<void>;
  /** Says what became of a claimed text. `handed` keeps the instant for question order. */
  settleOutbox(
    id: string,
    status: MessageStatus,
    at: EpochMs,
    notBefore: EpochMs | null,
    providerId: string | null,
  ): Promise<void>;
  /** Moves the status of a text only forward. False: unknown id or backward. */
  report(id: string, status: 'sent' | 'delivered' | 'failed', at: EpochMs): Promise<boolean>;
  /** What the link called `channel` is judged by. */
  link(channel: string): Promise<LinkFacts>;
  /** A fact about the database itself, for example that a real channel used it; null = not set. */
  mark(name: string): Promise<string | null>;
  setMark(name: string, value: string): Promise<void>;
  /** After a restart: texts left `sending` become `unsure`; safety texts among them are queued again. Returns how many. */
  recoverOutbox(now: EpochMs): Promise<number>;
  /** The same for texts of another process that did not settle them in its time: it has died. */
  takeOver(now: EpochMs): Promise<number>;
  nextOutboxAt(): Promise<EpochMs | null>;
  /** Texts that have not gone out, by lane, and when the oldest of each was said. */
  queues(): Promise<readonly { readonly lane: Lane; readonly texts: number; readonly oldestAt: EpochMs }[]>;
  /** How the line of this programme stands. Reads what is open, never what is past. */
  figures(programmeId: string, now: EpochMs): Promise<Figures>;
  /** Texts put out since an instant, delivered or not. */
  textsSince(at: EpochMs): Promise<number>;

  /**
   * Mends a piece of what points to cases that are not there: rows go, and an event lets each conversation let go. `last`
   * is where the next call goes on, null at the end.
   */
  mendSome(after: string, at: EpochMs): Promise<{ readonly mended: number; readonly last: string | null }>;

  /** What open columns say around an event; reads nothing that is sealed. */
  bare(event: LineEvent): Promise<Bare>;
  /** For each key of an event: whether one with it was taken before. */
  wereTaken(programmeId: string, keys: readonly string[]): Promise<readonly boolean[]>;
  parked(): Promise<readonly Parked[]>;

  /** One whole case, for `CASE`, audit and tests. */
  findCase(programmeId: string, codeOrId: string): Promise<Case | null>;
  history(caseId: string): Promise<readonly CaseRecord[]>;
  messages(filter: { readonly personId?: string; readonly caseId?: string }): Promise<readonly StoredMessage[]>;
  /** Recomputes every chain and fold; returns one line per fault. */
  verify(): Promise<readonly string[]>;
  /** Keeps a structure; one that is there already has its words and traits renewed. */
  saveFlow(hash: string, flow: string, json: string, at: EpochMs): Promise<void>;
  /** Every structure that was ever served, so that people finish on the one they began. */
  savedFlows(): Promise<readonly { readonly hash: string; readonly json: string }[]>;
  close(): Promise<void>;
}
