/** One run of a scenario: what was asked of whom, how each step of the way ended, and what was said about it. */
import type { Question } from './reply.ts';
import type { Part, Scenario } from './scenario.ts';

/** `aside`: looked something up or went back, which is neither right nor wrong. */
export type Verdict = 'right' | 'late' | 'missed' | 'other' | 'aside';

/** How a step of the way stands. `left-out`: this programme never asks it. */
export type Mark = 'ahead' | 'right' | 'late' | 'left-out' | 'missed';

/** What waits for an answer of somebody. */
export interface Open extends Question {
  /** The step of the way that it is; null = it is none of them. */
  readonly index: number | null;
  readonly at: string;
  /** When it was asked first, ms. */
  readonly askedAt: number;
  /** Answered rightly: a screen that still comes belongs to it and asks nothing more. */
  readonly answered: boolean;
}

export interface LogEntry {
  /** When it was sent, ms; for what never came, when the run ended. */
  readonly at: number;
  /** What was sent; empty = nothing. */
  readonly sent: string;
  readonly verdict: Verdict;
  readonly comment: string;
}

export interface Run {
  readonly open: Readonly<Partial<Record<Part, Open>>>;
  /** The step of the way after the last one that was answered, by person. */
  readonly cursor: Readonly<Partial<Record<Part, number>>>;
  readonly marks: readonly Mark[];
  readonly log: readonly LogEntry[];
  /** A wrong answer was taken: what is no longer asked was missed, not left out by the programme. */
  readonly away: boolean;
  /** The learner's last text was no right answer: an earlier question may come back. */
  readonly astray: boolean;
}

const nothingAsked: Question = { text: '', kind: null, options: [] };

/** A run at its beginning: whoever begins the way may. */
export function beginRun(scenario: Scenario, now: number): Run {
  const first = scenario.steps.findIndex(({ at }) => at === 'begin');
  const step = scenario.steps[first];
  const open: Run['open'] = step
    ? { [step.part]: { ...nothingAsked, index: first, at: 'begin', askedAt: now, answered: false } }
    : {};
  return { open, cursor: {}, marks: scenario.steps.map(() => 'ahead'), log: [], away: false, astray: false };
}

/** Steps of the learner that count, and how many of them are done. */
export function progressOf(scenario: Scenario, { marks }: Run): { readonly done: number; readonly of: number } {
  const own = marks.filter((mark, index) => scenario.steps[index]!.part === scenario.you && mark !== 'left-out');
  return { done: own.filter((mark) => mark === 'right' || mark === 'late').length, of: own.length };
}

/** True once the learner answered the last step of the way. */
export function isOver(scenario: Scenario, { marks }: Run): boolean {
  const last = scenario.steps.findLastIndex(({ part }) => part === scenario.you);
  return marks[last] === 'right' || marks[last] === 'late';
}
