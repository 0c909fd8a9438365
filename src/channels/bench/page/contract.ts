/** What the bench answers and tells, as the page reads it. */
import type { CaseStrip } from '../strip/strip.ts';
import type { ScenarioState } from './training.ts';

export type Urgency = 'now' | 'today' | 'plain';

export interface PhoneText {
  readonly id: string;
  /** From the line to the phone. */
  readonly out: boolean;
  /** Epoch ms. */
  readonly at: number;
  readonly text: string;
  /** Waits for the net of its phone. */
  readonly held: boolean;
  readonly urgency: Urgency;
}

/** An open question of one person, each choice in the words that its own text says, with the reply as it is sent. */
export interface OpenQuestion {
  readonly caseId: string | null;
  readonly tag: string;
  readonly title: string;
  readonly choices: readonly { readonly reply: string; readonly label: string }[];
}

export interface PhoneCost {
  readonly sentTexts: number;
  readonly sentSegments: number;
  readonly gotTexts: number;
  readonly gotSegments: number;
}

export interface PhonePerson {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly string[];
  readonly address: string;
  readonly net: boolean;
  readonly texts: readonly PhoneText[];
  readonly questions: readonly OpenQuestion[];
  readonly cost: PhoneCost;
}

/** Price of one segment, in `currency`. */
export interface Price {
  readonly currency: string;
  readonly perSegmentOut: number;
  readonly perSegmentIn: number;
}

export interface BenchState {
  readonly now: number;
  /** IANA zone of the times. */
  readonly zone: string;
  readonly next: { readonly at: number; readonly what: string } | null;
  readonly words: Readonly<Record<string, string>>;
  readonly price: Price | null;
  readonly people: readonly PhonePerson[];
  readonly cases: readonly CaseStrip[];
  readonly scenario: ScenarioState | null;
}
