/** A scenario: a patient whom somebody leads on the bench, and the right way as ordered steps. */

import type { Nodule } from '../clinical/findings.ts';

/** Who is played: the first with that role at the first clinic, `second-doctor` the next one on the ladder. */
export const parts = ['worker', 'doctor', 'second-doctor', 'laboratory', 'coordinator'] as const;
export type Part = (typeof parts)[number];

/** An answer: options of the question by their ids, or a text with places to fill (`reply.ts`). */
export type Reply = { readonly ids: readonly string[] } | { readonly text: string };

export interface Step {
  readonly part: Part;
  /** The text that asks: `flow.step`, or its key where no flow asks (`posting.request`). `begin`: nothing asks. */
  readonly at: string;
  /** Right. */
  readonly send: Reply;
  /** Right as well. A text between slashes is a regular expression over the whole answer, compared as written. */
  readonly also: readonly Reply[];
  /** Regular expression over the text that asks; its first group fills `{found}`. */
  readonly find: string | null;
  /** Late after this, ms from the question; null = there is no hurry. */
  readonly withinMs: number | null;
  /** So long somebody who is played by the bench takes to answer, ms. */
  readonly afterMs: number;
  /** What is seen at this moment; empty = what the card says. */
  readonly scene: string;
  /** Why this is right. */
  readonly why: string;
  /** What an answer other than the right one would mean, by option id or text. */
  readonly wrong: Readonly<Record<string, string>>;
}

export interface Scenario {
  readonly id: string;
  /** Place in the list, from 1. */
  readonly order: number;
  /** Whom the learner plays. */
  readonly you: Part;
  /** True: each next step is shown without being asked for. */
  readonly guided: boolean;
  readonly patient: { readonly initials: string; readonly born: number; readonly sex: 'F' | 'M' };
  /** What is true of the lump, for the picture on the card; null = no ultrasound. */
  readonly looks: Nodule | null;
  readonly steps: readonly Step[];
  /** Other names under which a question of the way is asked again, with its first one. */
  readonly again: Readonly<Record<string, string>>;
  /** Answers to what a programme of one's own asks beside the way, by `flow.step`. */
  readonly elsewhere: Readonly<Record<string, Reply>>;
  readonly title: string;
  readonly about: string;
  /** What the patient says and what is found. */
  readonly card: readonly string[];
  /** What lies on the table. */
  readonly table: readonly string[];
}

/** How an answer is judged in words; each with the places that `comment.ts` fills. */
export interface CommentWords {
  readonly right: string;
  readonly late: string;
  readonly other: string;
  readonly unasked: string;
  readonly away: string;
  readonly elsewhere: string;
  readonly help: string;
  readonly alarm: string;
  readonly missedAsked: string;
  readonly missedNever: string;
}

export interface Training {
  readonly scenarios: readonly Scenario[];
  readonly comments: CommentWords;
  /** How a patient is named: `{initials}`, `{born}`. */
  readonly patients: Readonly<Record<'F' | 'M', string>>;
}
