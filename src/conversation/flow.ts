/** A conversation as data. Only the checked loader makes one, so the interpreter never meets a faulty flow. */

import type { FlowName } from '../generated/flow-names.ts';
import type { StateName } from '../generated/state-names.ts';
import type { KeyIn, TextKey } from '../generated/text-keys.ts';
import type { AskKind } from './answers/answer.ts';
import type { Lane } from './effect.ts';
import type { LateRule } from './event.ts';
import type { AlarmAnswer } from './hearing/alarm-words.ts';
import type { Receivers } from './people.ts';
import type { FlowTraits, StateTraits } from './traits.ts';

export interface FlowAsk {
  /** Dotted path of the answer, as in the findings (`patient.sex`), printed by `check --fields`. */
  readonly field: string;
  readonly kind: AskKind;
  /** Options with the digits they are sent by. `none`/`no` = 0, `unknown` = 9, others 1 to 8 in order, unless said. */
  readonly options: readonly FlowOption[];
  /** Named reader for a kind that needs more than its kind says (`patient`, `slides`). */
  readonly reader: string | null;
  /** The answer concerns the frame's item (nodule, specimen). */
  readonly each: boolean;
  /** Replies carry this number in front (a value name, e.g. `attempt`), so that a late digit cannot answer. */
  readonly numbered: string | null;
  /** Do not write the answer into the case. */
  readonly unrecorded: boolean;
  /** Digits in an order of their own: no buttons. */
  readonly typed?: true;
}

export interface FlowOption {
  readonly id: string;
  readonly reply: string;
  /** Random digits (`guesses.ts`) printed in the text (value `secret`, of a second such option `secret2`): whoever sends them has read this message. */
  readonly secret: boolean;
  /** A word of an open alarm (`alarm.json`): understood whatever else is asked, in every language; with digits where it is secret. */
  readonly alarm?: AlarmAnswer;
}

export interface FlowTimer {
  readonly name: string;
  /** Name of a duration of the programme. */
  readonly after: string | null;
  /** Name of an instant worked out from the case. */
  readonly at: string | null;
  readonly late: LateRule;
  /** Waits for the programme's daytime. */
  readonly daytime: boolean;
}

/** What a doctor can be asked: every such text has the few words that name it in lists. */
export type QuestionAbout = KeyIn<'doctor'> extends infer K ? (K extends `about-${infer A}` ? A : never) : never;

export interface FlowQuestion {
  /** Name of an urgency of the programme. */
  readonly urgency: string;
  /** Key in `doctor.json` and name of its choices. */
  readonly about: QuestionAbout;
  readonly options: readonly { readonly id: string; readonly reply: string; readonly care: boolean }[];
}

export interface FlowNotice {
  readonly to: Receivers;
  readonly text: TextKey;
  readonly lane: Lane;
}

export interface FlowTransition {
  /** Named recorders: what goes into the case's history. */
  readonly record: readonly string[];
  readonly say: readonly TextKey[];
  readonly notify: readonly FlowNotice[];
  readonly question: FlowQuestion | null;
  /** Flow to run on top; afterwards `target`. */
  readonly run: FlowName | null;
  /** Flow that replaces this one. */
  readonly flow: FlowName | null;
  /** State to enter; null = stay. */
  readonly target: StateName | null;
}

export interface FlowState {
  readonly name: StateName;
  readonly say: readonly TextKey[];
  readonly record: readonly string[];
  readonly notify: readonly FlowNotice[];
  readonly question: FlowQuestion | null;
  readonly ask: FlowAsk | null;
  /** Text of the question; of a state that asks nothing it need not be there. */
  readonly text: TextKey;
  readonly decide: string | null;
  readonly timers: readonly FlowTimer[];
  readonly transitions: ReadonlyMap<string, FlowTransition>;
  readonly final: boolean;
  /** Gloves on: other texts wait. */
  readonly quiet: boolean;
  /** The way back is closed here. */
  readonly noBack: boolean;
  /** Not in the structure's hash, so that frames that were stored before go on. */
  readonly traits: StateTraits;
  /** Line in the file, for problems. */
  readonly line: number;
}

export interface Flow {
  readonly name: FlowName;
  readonly hash: string;
  readonly initial: StateName;
  /** Not in the hash either. */
  readonly traits: FlowTraits;
  readonly states: ReadonlyMap<string, FlowState>;
  /** Transitions that hold in every state of the flow which lacks them. */
  readonly anywhere: ReadonlyMap<string, FlowTransition>;
}

export interface FlowSet {
  /** Newest structure by name. */
  readonly newest: ReadonlyMap<string, Flow>;
  /** Every structure that somebody may still be walking, by hash. */
  readonly byHash: ReadonlyMap<string, Flow>;
}
