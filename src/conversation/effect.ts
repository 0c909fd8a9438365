/** What one step causes, as data. Nothing here has been done yet: the line commits it all together. */
import type { Case } from '../case/case.ts';
import type { CaseRecord } from '../case/events.ts';
import type { SiteStock } from '../case/stock.ts';
import type { Due } from './event.ts';
import type { ExitKind } from './exits.ts';
import type { ConversationState, Question } from './state.ts';
import type { Address, Invitation, Person } from './world.ts';

/** Urgency of an outgoing text, most urgent first. */
export const lanes = ['sos', 'reply', 'notice', 'reminder'] as const;
export type Lane = (typeof lanes)[number];

/**
 * Longest pause that a text of a lane may be given, ms: first aid and answers are tried again within a minute, news waits
 * a quarter of an hour for a budget, reminders wait for the day. Our convention.
 */
export const longestWaitMs: Readonly<Record<Lane, number>> = {
  sos: 60_000,
  reply: 60_000,
  notice: 15 * 60_000,
  reminder: 24 * 3_600_000,
};

/** What a screen asks, as `play --json` prints it and as channels turn it into buttons. */
export interface ShownAsk {
  readonly field: string;
  readonly item: string | null;
  readonly kind: string;
  readonly options: readonly {
    readonly reply: string;
    readonly id: string;
    readonly label: string;
    /** Only read and typed, never tapped by mistake: whatever lets go or stops an alarm. */
    readonly typed?: true;
  }[];
  /** What can be said instead, in one word, if it did not happen (`exits.ts`); absent = nothing. */
  readonly exits?: readonly ExitKind[];
  /** Names this question (`ask-token.ts`), so that a tap on an old button is known as old. */
  readonly token: string;
}

/** One text to one person, in that person's language. */
export interface Said {
  /** `<eventId>:<n>`: derived, never random. */
  readonly id: string;
  readonly to: Address;
  readonly personId: string | null;
  readonly caseId: string | null;
  readonly lane: Lane;
  readonly text: string;
  readonly flow: string;
  readonly step: string;
  readonly code: string | null;
  readonly ask: ShownAsk | null;
  readonly validUntil: number;
  readonly notBefore: number;
  readonly safety: boolean;
  /** Holds a full name: goes by this address or not at all. */
  readonly hereOnly?: true;
  /** A photo that is shown with the text, by the name that the address's network gave it. */
  readonly picture?: string;
  /** The first that somebody hears of an alarm: goes before everything that is said of alarms again. */
  readonly first?: true;
  /** What it is about, if it is said again and again: the next one takes its place while it waits to be sent. */
  readonly subject?: string;
  /** What it takes the place of beside its own subject. */
  readonly replaces?: readonly string[];
}

export type RosterChange =
  | { readonly kind: 'put-person'; readonly person: Person }
  | { readonly kind: 'invite'; readonly invitation: Invitation }
  /** Stops, by open columns alone: also somebody whose name does not open. */
  | { readonly kind: 'leave'; readonly personId: string }
  /** What waits to be sent to them is not sent: the phone has another owner. */
  | { readonly kind: 'drop-texts'; readonly personId: string }
  | { readonly kind: 'use-invitation'; readonly invitationId: string; readonly wrongTry: boolean };

export interface StepResult {
  /** Null when the event has no person (a stranger, a climbing question, an overdue case). */
  readonly state: ConversationState | null;
  readonly personId: string | null;
  /** The case that the inbound text belongs to, for sealing it under that case's key. */
  readonly aboutCaseId: string | null;
  readonly cases: readonly { readonly value: Case; readonly isNew: boolean; readonly records: readonly CaseRecord[] }[];
  readonly says: readonly Said[];
  readonly due: readonly Due[];
  readonly cancelDue: readonly { readonly personId: string; readonly frameId: string; readonly name: string | null }[];
  readonly hurry: readonly { readonly personId: string; readonly name: string; readonly at: number }[];
  readonly questions: readonly { readonly value: Question; readonly isNew: boolean }[];
  readonly people: readonly RosterChange[];
  /** Stocks of sites as they are now. */
  readonly stocks: readonly SiteStock[];
  /** Segments that were bought for a link. */
  readonly credits: readonly { readonly channel: string; readonly segments: number }[];
  /** Day (YYYY-MM-DD) on which an unknown sender got an answer. */
  readonly strangerAnswer: string | null;
  /** Keys beside the event's own: what they stand for happens once. */
  readonly onceKeys: readonly string[];
}
