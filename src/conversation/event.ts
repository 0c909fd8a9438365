import type { Json } from '../case/events.ts';
import type { StockUse } from '../case/stock.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { KeyIn, TextKey } from '../generated/text-keys.ts';
import type { RosterAct } from './authority.ts';
import type { Lane } from './effect.ts';
import type { Frame } from './state.ts';
import type { PlainReason } from './voice.ts';
import type { Address } from './world.ts';

/** What becomes of a timer that fires long after its time, because the line was away: as ever, not at all, with how late it is. */
export const lateRules = ['fire', 'skip', 'say-when'] as const;
export type LateRule = (typeof lateRules)[number];
/** Changes of the roster that take somebody off the line, or off their number. */
export type AwayWhy = Extract<RosterAct, 'lost' | 'suspend' | 'change'> | 'replaced';

/** What nobody has signed, or not as it is now: how many conventions, and names of the languages that nobody has read. */
export interface Unsigned {
  readonly conventions: number;
  readonly languages: readonly string[];
}

/** What the coordinators can be told of the line itself. */
export type TroubleKey = KeyIn<'trouble'>;

/** What one person or the line itself is told to do next. Rows of the `due` table hold these. */
export type DueWhat =
  /** A timer of a state: changes nothing unless frame and entry are still the same. */
  | {
      readonly kind: 'timer';
      readonly frameId: string;
      readonly entry: number;
      readonly name: string;
      readonly late: LateRule;
    }
  /** Say a text, then come back to the open question. */
  | {
      readonly kind: 'tell';
      readonly key: TextKey;
      readonly caseId: string | null;
      readonly item: string | null;
      readonly vars: Readonly<Record<string, Json>>;
      readonly lane: Lane;
      /** The first that this person hears of an alarm. */
      readonly first?: true;
      /** Said only while this question is unanswered. */
      readonly questionId?: string;
    }
  /** Begin a flow. */
  | {
      readonly kind: 'run';
      readonly flow: FlowName;
      readonly caseId: string | null;
      readonly item: string | null;
      readonly vars: Readonly<Record<string, Json>>;
      /** What this brings is worth whole sentences: brief ends with it. */
      readonly plain?: PlainReason;
    }
  /** A doctor answered a question that this person's case waits for. */
  | {
      readonly kind: 'answered';
      readonly questionId: string;
      readonly caseId: string | null;
      readonly answer: string;
      readonly words: string;
      readonly by: string;
    }
  /** The sender's alarm was sent again: the doctors hear how often, not each time. */
  | { readonly kind: 'alarm-again'; readonly frameId: string }
  /** For a coordinator: an alarm from a number that is not on the line; `from` null: what was collected since the last text. */
  | {
      readonly kind: 'unknown-alarm';
      readonly from: string | null;
      /** False: no text would arrive there, so it got no first aid. */
      readonly answered?: boolean;
    }
  /** A doctor is asked; `again`: once more, because nobody answered. */
  | { readonly kind: 'ask-doctor'; readonly questionId: string; readonly rung: number; readonly again?: true }
  /** Parts of a long text are there, and one is not. */
  | { readonly kind: 'part-missing'; readonly reference: string; readonly total: number; readonly since: number }
  /** A picture that came after its question was asked, by its place among the question's pictures. */
  | { readonly kind: 'picture'; readonly questionId: string; readonly place: number }
  /** A question without an answer climbs; `not`: who passed it on and is not asked again by this. */
  | { readonly kind: 'climb'; readonly questionId: string; readonly rung: number; readonly not?: string }
  /** Conversations of a case go to somebody else. `begins`: false where those who get it have begun already. */
  | { readonly kind: 'hand-over'; readonly caseId: string; readonly to: string; readonly begins?: false }
  | { readonly kind: 'receive'; readonly caseId: string; readonly frames: readonly Frame[] }
  /** A person's place on the line changed: what they owe moves on, or comes back. `heir`: who gets their cases. */
  | ({
      readonly kind: 'standing';
      readonly by: string;
      readonly heir: string | null;
      /** Whoever has the phone now: nothing of this person's goes to them. */
      readonly notTo?: string;
      /** What was done since this instant is shown to the doctors; null = nothing to show. */
      readonly since: number | null;
    } & (
      | { readonly now: 'away'; readonly why: AwayWhy }
      | { readonly now: 'back'; readonly why: RosterAct }
      | { readonly now: 'relieved'; readonly why: RosterAct }
    ))
  /** Newly on the roster by its file: what the line is, the first word, who pays. Says itself once, by day. */
  | { readonly kind: 'welcome' }
  /** Of a site's stock: a use to take off, an expiry to look at, or (for a person) the words after STOCK. */
  | {
      readonly kind: 'stock';
      readonly siteId: string;
      readonly words: string | null;
      readonly used: StockUse | null;
      /** A look at counts that this person sent: who has just counted knows. */
      readonly by?: string;
    }
  /** How the whole line stands, told to a person: each morning, or when they ask. */
  | {
      readonly kind: 'overview';
      readonly for: 'digest' | 'report';
      /** Cases that owe something until this instant. */
      readonly until: number;
      /** Cases opened since this instant, for figures; null = no figures. */
      readonly since: number | null;
      /** Mark of the day's head over the whole history; null = none is said. */
      readonly head: string | null;
      /** What nobody signed or read; absent = it is not said now. */
      readonly unsigned?: Unsigned;
    }
  /** A text to somebody never arrived; `again` = neither did another one lately. */
  | { readonly kind: 'undelivered'; readonly messageId: string; readonly to: string; readonly again: boolean }
  /** Something about the line itself that the coordinators must know. */
  | {
      readonly kind: 'trouble';
      readonly key: TroubleKey;
      readonly vars: Readonly<Record<string, string>>;
      /** Somebody may be in danger; absent = a notice. */
      readonly lane?: 'sos';
    }
  /** The line was away since `since` and is back: whoever is in the middle of something hears where they are. */
  | { readonly kind: 'line-back'; readonly since: number }
  /**
   * This person's conversation points to a case that is not there any more, and lets go of it; null = whatever is lost.
   * `freshBy`: the coordinator who gives the phone a fresh start; null = nobody does.
   */
  | { readonly kind: 'mend'; readonly caseId: string | null; readonly freshBy: string | null }
  /**
   * The day to look again at a patient: whoever works at the site then is asked. `told`: times that nobody was there.
   * `parcel`: a doctor is to be asked about a lost one, once somebody is there.
   */
  | {
      readonly kind: 'look-again';
      readonly caseId: string;
      readonly item: string | null;
      readonly told: number;
      readonly parcel?: true;
    }
  /** What a case waits for did not happen in time. */
  | { readonly kind: 'overdue'; readonly caseId: string };

/** A row that becomes an event at `dueAt`. */
export interface Due {
  /** `<eventId>:d<n>`, or `overdue:<caseId>:<dueAt>:<sequence>` for a case's duty. */
  readonly id: string;
  readonly programmeId: string;
  /** Whose conversation it is for; null: the case itself (`overdue`) or a question (`climb`). */
  readonly personId: string | null;
  readonly caseId: string | null;
  readonly name: string;
  readonly frameId: string | null;
  readonly dueAt: number;
  readonly what: DueWhat;
}

/** A photo by the name under which its network shows it again: the line itself never fetches it. */
export interface SentPicture {
  readonly file: string;
}

/** One of the parts in which a network brought a long text. `reference`: the same for all of them. */
export interface TextPart {
  readonly reference: string;
  /** From 1. */
  readonly number: number;
  readonly total: number;
  /** When the network took it from the phone; null = the network does not say. */
  readonly networkAt: number | null;
}

/** Why something is no text of its own: a part, a picture, a voice note, changed, passed on from somewhere, anything else. */
export type Unreadable = 'part' | 'picture' | 'voice' | 'edited' | 'forwarded' | 'other';

interface EventBase {
  readonly id: string;
  readonly programmeId: string;
  /** Unique keys of this event; a second one with any of them changes nothing. */
  readonly keys: readonly string[];
  readonly at: number;
  /** 16 bytes: with `at`, the only clock and the only randomness of a step. */
  readonly seed: Uint8Array;
}

export type LineEvent =
  | (EventBase & {
      readonly kind: 'text';
      readonly from: Address;
      readonly text: string;
      /** When the network took the message from the phone; null = the network does not say. */
      readonly networkAt: number | null;
      /** How long after this phone's text before it it was sent, ms, where that is known better than by the times. */
      readonly pauseMs?: number;
      /** The message that it was sent as a reply to, by the id that its network gave it; absent where there is none. */
      readonly quotes?: { readonly providerId: string };
    })
  /** Something came that is no whole text: `text` is what of it can be read, for SOS and for the history. */
  | (EventBase & {
      readonly kind: 'unreadable';
      readonly from: Address;
      readonly why: Unreadable;
      readonly text: string;
      /** Which part of a long text this is. */
      readonly part?: TextPart;
      /** A still photo; absent for everything else. */
      readonly picture?: SentPicture;
      /** What was sent together: it is refused once. */
      readonly album?: string;
    })
  /** A tap on a button; the token names its question (`ask-token.ts`). */
  | (EventBase & { readonly kind: 'tap'; readonly from: Address; readonly token: string; readonly reply: string })
  | (EventBase & { readonly kind: 'due'; readonly due: Due });
