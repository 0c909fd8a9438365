import type { FurtherAnswers } from '../case/answers.ts';
import type { Case, Specimen } from '../case/case.ts';
import type { CaseEvent, Json } from '../case/events.ts';
import type { TextKey } from '../generated/text-keys.ts';
import type { Parsed } from './answers/answer.ts';
import type { Lane, RosterChange } from './effect.ts';
import type { DueWhat, LineEvent } from './event.ts';
import type { FlowQuestion } from './flow.ts';
import type { Interpreter } from './interpret.ts';
import type { Receivers } from './people.ts';
import type { Draw } from './random.ts';
import type { Frame, OpenAsk, Question } from './state.ts';
import type { Voice } from './texts.ts';
import type { FlowTraits } from './traits.ts';
import type { Turn } from './turn.ts';
import type { Person, Role, World } from './world.ts';

/** All that a decision, a value or a recorder may look at. Read-only. */
export interface Moment {
  readonly world: World;
  readonly event: LineEvent;
  /** Instant of the event, ms. */
  readonly now: number;
  readonly draw: Draw;
  /** Whose conversation it is. */
  readonly person: Person;
  /** Link by which texts reach this person now. */
  readonly channel: string;
  /** How much the texts to this person say. */
  readonly voice: Voice;
  readonly frame: Frame;
  readonly case: Case | null;
  /** The frame's specimen (`s1`), or null. */
  readonly specimen: Specimen | null;
  readonly ask: OpenAsk | null;
  /** Digits drawn for the secret options of the question being shown, in the order of its options. */
  readonly secrets: readonly string[];
  /** The answer just read; null outside the transition that it causes. */
  readonly answer: Json | null;
  /** Every case at hand, with what this step already changed. */
  readonly cases: readonly Case[];
  readonly questions: readonly Question[];
}

/** What a recorder wants done. Acts are carried out in order and commit together. */
export type Act =
  /** A case event; on the moment's case unless `caseId` names another. `opened` on no case makes one. */
  | { readonly do: 'record'; readonly event: CaseEvent; readonly caseId?: string }
  | { readonly do: 'vars'; readonly vars: Readonly<Record<string, Json>> }
  /** Points the frame at a specimen or nodule. */
  | { readonly do: 'item'; readonly item: string | null }
  /** The conversation goes on with this case instead of its own; there is no way back before it. */
  | { readonly do: 'case'; readonly caseId: string }
  /** Conversations of this person about the case that have these traits are over; an alarm is not. */
  | {
      readonly do: 'end-threads';
      readonly caseId: string;
      readonly traits: FlowTraits;
      /** Those about this specimen alone: what is asked about the patient's other samples goes on. */
      readonly item?: string | null;
      /** Not the one that says so. */
      readonly keepsOwn?: true;
    }
  /** This person's conversation about the case is the one that asks. */
  | { readonly do: 'raise'; readonly caseId: string }
  | { readonly do: 'people'; readonly change: RosterChange }
  /** So many segments may go out by this link from now on. */
  | { readonly do: 'credit'; readonly channel: string; readonly segments: number }
  /** An event in somebody else's conversation, now or later. */
  | {
      readonly do: 'post';
      readonly personId: string | null;
      readonly what: DueWhat;
      readonly at?: number;
      readonly caseId?: string | null;
      readonly name?: string;
    }
  /** A question to the doctors' ladder that returns to the case owner's thread as `<about>.<answer>`. */
  | {
      readonly do: 'question';
      readonly question: FlowQuestion;
      readonly words?: string;
      readonly item?: string | null;
      readonly caseId?: string;
      /** Nobody is asked before this instant, and not at all if it is settled by then. */
      readonly firstRungAt?: number;
    }
  | {
      readonly do: 'answer-question';
      readonly questionId: string;
      readonly answer: string;
      readonly words: string;
    }
  | { readonly do: 'put-question'; readonly question: Question }
  /** Digits that prove something were wrong: counted, so that they get longer before they could be found by trying. */
  | { readonly do: 'wrong-digits' }
  /** A question that was asked before its patient was named belongs to this case. */
  | { readonly do: 'file-question'; readonly question: Question }
  /** A text to a phone that is about to leave the line: its person as they were before. */
  | {
      readonly do: 'echo';
      readonly person: Person;
      readonly text: TextKey;
      readonly vars: Readonly<Record<string, Json>>;
    }
  | {
      readonly do: 'notify';
      readonly to: Receivers;
      readonly text: TextKey;
      readonly lane: Lane;
      readonly caseId?: string;
      readonly item?: string | null;
      readonly vars?: Readonly<Record<string, Json>>;
    };

export interface Decision {
  /** Every word that `decide` may return; a flow must treat all of them. */
  readonly outcomes: readonly string[];
  decide(moment: Moment): string | { readonly outcome: string; readonly acts: readonly Act[] };
}

export type Recorder = (moment: Moment) => readonly Act[];
export type Value = (moment: Moment) => string;
export type Instant = (moment: Moment) => number | null;
/** Reads a reply into the value to record and the transition to take (`answered` unless said). */
export type Reader = (
  text: string,
  moment: Moment,
) => Parsed<{
  readonly value: Json;
  readonly fields?: FurtherAnswers;
  readonly outcome?: string;
  readonly exact?: true;
}>;

/** The named pieces of code that flows and texts may use. */
export interface Registry {
  readonly decisions: ReadonlyMap<string, Decision>;
  readonly recorders: ReadonlyMap<string, Recorder>;
  readonly values: ReadonlyMap<string, Value>;
  readonly readers: ReadonlyMap<string, Reader>;
  readonly instants: ReadonlyMap<string, Instant>;
  readonly commands: ReadonlyMap<string, Command>;
  readonly doctorAnswers: ReadonlyMap<string, AnswerRecorder>;
  /** Values that are shown whatever a caller hands over under their name. */
  readonly hiding: ReadonlySet<string>;
  /** Refuses a text whose caller hands over what such a value hides; else the value is shown. For tests. */
  readonly strict?: true;
  /** Typical rendered value, for counting segments in the checker. */
  readonly samples: ReadonlyMap<string, string>;
}

/** A word that begins a text and what it starts. */
export interface Command {
  readonly roles: readonly Role[];
  /** An everyday word: from anybody else it is no command, just the beginning of a sentence. */
  readonly everyday?: boolean;
  /** `WORDS` only: texts that are taken even while a question is open. */
  claims?(text: string): boolean;
  run(turn: Turn, interpreter: Interpreter, rest: string): void;
}

/** What a doctor's answer to a question of this kind records, besides the answer itself. */
export type AnswerRecorder = (moment: Moment, question: Question, answer: string) => readonly Act[];

/** One subject's named pieces; the registry is the sum of them. */
export interface Matter {
  readonly commands?: Readonly<Record<string, Command>>;
  readonly doctorAnswers?: Readonly<Record<string, AnswerRecorder>>;
  readonly decisions?: Readonly<Record<string, Decision>>;
  readonly recorders?: Readonly<Record<string, Recorder>>;
  /** A value with a sample of its usual width. `fromVar`: made of the working value of the same name, so that it hides nothing. */
  readonly values?: Readonly<Record<string, { readonly of: Value; readonly sample: string; readonly fromVar?: true }>>;
  readonly readers?: Readonly<Record<string, Reader>>;
  readonly instants?: Readonly<Record<string, Instant>>;
}

/** A case event on the moment's case. */
export function record(event: CaseEvent): Act {
  return { do: 'record', event };
}
