import type { Case, CaseStatus } from '../case/case.ts';
import type { Role } from '../case/roles.ts';
import type { SiteStock } from '../case/stock.ts';
import type { QuickVocabulary } from './answers/quick-vocabulary.ts';
import type { FlowSet } from './flow.ts';
import type { Programme } from './programme.ts';
import type { ConversationState, Question } from './state.ts';
import type { Texts } from './texts.ts';

export type { Role };

/** Where a text goes. `address` is a phone number, a chat id, or a name on the phone bench. */
export interface Address {
  readonly channel: string;
  readonly address: string;
}

/** Somebody of the programme's roster. An address is not a person: one person may have several. */
export interface Person {
  readonly id: string;
  readonly programmeId: string;
  readonly name: string;
  readonly roles: readonly Role[];
  readonly siteId: string;
  readonly locale: string;
  readonly addresses: readonly Address[];
  /** Rank on the doctors' ladder, 1 first; 0 = not on it. */
  readonly rank: number;
  readonly state: 'invited' | 'joined' | 'stopped' | 'suspended';
  /** Has done the practice question. */
  readonly practised: boolean;
  /** Phone used by several people of one site or laboratory: it asks who is writing. */
  readonly shared: boolean;
  /** Doctor: off duty until this instant, ms; absent = on duty. Asked last, not never. */
  readonly offUntil?: number | undefined;
  /** Doctor: hours of the day on duty, `to` not included; absent = all day. */
  readonly dutyHours?: { readonly from: number; readonly to: number } | undefined;
}

/** A one-use number that lets an address of the roster in. */
export interface Invitation {
  readonly id: string;
  readonly personId: string;
  readonly programmeId: string;
  readonly number: string;
  readonly validUntil: number;
  readonly wrongTries: number;
  readonly used: boolean;
}

/** An open case in one line. */
export interface CaseBrief {
  readonly id: string;
  readonly tag: string;
  readonly codes: readonly string[];
  readonly siteId: string;
  readonly ownerId: string;
  readonly status: CaseStatus;
  readonly dueAt: number | null;
  /** A doctor is asked about an alarm of this patient and has not answered. */
  readonly inAlarm?: true;
}

/** What a person's conversation or an event names and nothing can be read of. */
export interface Lost {
  /** `erased`: on purpose; `damaged`: its bytes do not open, or it is not there. */
  readonly cases: readonly { readonly id: string; readonly why: 'erased' | 'damaged' }[];
  /** Ids of questions, erased ones too. */
  readonly questions: readonly string[];
  /** The conversation itself does not open: it begins anew. */
  readonly conversation: boolean;
}

/** Everything that was named could be read. */
export const nothingLost: Lost = { cases: [], questions: [], conversation: false };

/** All that a step may look at: read-only values. */
export interface World {
  readonly programme: Programme;
  readonly flows: FlowSet;
  readonly texts: Texts;
  readonly quick: ReadonlyMap<string, QuickVocabulary>;
  readonly roster: readonly Person[];
  readonly person: Person | null;
  readonly conversation: ConversationState;
  readonly cases: readonly Case[];
  readonly briefs: readonly CaseBrief[];
  readonly questions: readonly Question[];
  readonly tagsInUse: readonly string[];
  readonly invitation: Invitation | null;
  /** When the question named by its message id was handed to its network; null or absent = not known. */
  readonly handedAt: Readonly<Record<string, number | null>>;
  /** When each of them was reported to be on the phone; null = not reported. */
  readonly reportedAt: Readonly<Record<string, number | null>>;
  /** Names the question of the message that the text was sent as a reply to (`ask-token.ts`, `lostToken` too); null = no question of ours. */
  readonly quotedToken: string | null;
  readonly strangersToday: number;
  /** This unknown sender got first aid today. */
  readonly firstAidGiven: boolean;
  /** Stock of every site: loaded for events about stock and for the overview. */
  readonly stocks: readonly SiteStock[];
  /** The line as a whole: loaded for the overview alone. */
  readonly overview: Overview | null;
  /** What a person did who was taken off the line: loaded for that event alone. */
  readonly doings: readonly Doing[];
  readonly lost: Lost;
  /** When this line was brought back from a backup, ms; null = never. What was said between is not known. */
  readonly restoredAt: number | null;
  /** The line was started as a trial: no patient may depend on it, and everybody is told. */
  readonly trial: boolean;
  /** Codes issued in the programme so far. */
  readonly codesIssued: number;
}

/** Counts and cases from which a morning text or a report is made. */
export interface Overview {
  readonly openCases: number;
  /** Questions of the ladder that nobody answered, and those of them that climbed. */
  readonly openQuestions: number;
  readonly climbedQuestions: number;
  /** Open questions whether a frozen case may go on. */
  readonly frozenQuestions: number;
  /** Open cases that owe something by now or within a day. */
  readonly owing: readonly Case[];
  /** Cases of late, open or closed, for figures; only for a report. */
  readonly lately: readonly Case[];
  /** Texts that could not be brought to a person since yesterday. */
  readonly undelivered: readonly { readonly personId: string; readonly texts: number }[];
  /** When the newest copy of the database was made, or since when one is waited for; null = nobody waits for any. */
  readonly backupSince: number | null;
}

/** Something that a person did to a case. */
export interface Doing {
  readonly caseId: string;
  readonly at: number;
  /** The case event's type. */
  readonly type: string;
}
