/** One case as one band across the page: what is done, what is now, who holds it, and what happens if nobody answers. */
import type { Role } from '../../../case/roles.ts';

/** The way of one lump, from the first finding to the patient who was told and seen. */
export const stepIds = [
  'lump',
  'decision',
  'needle',
  'fixed',
  'label',
  'watch',
  'post',
  'laboratory',
  'result',
  'seen',
] as const;
export type StepId = (typeof stepIds)[number];

/** `left-out`: this case goes on, or has ended, without it. */
export type StepState = 'done' | 'now' | 'ahead' | 'left-out';

export interface StripStep {
  readonly id: StepId;
  readonly state: StepState;
  /** When it was done, ms; null = not done, or nobody said when. */
  readonly at: number | null;
}

/** Whose turn it is. Several people who are told alike are one holder, their names joined. */
export interface Holder {
  readonly name: string;
  readonly role: Role;
}

export interface CaseStrip {
  readonly caseId: string;
  readonly tag: string;
  /** Code as it is written on glass, `4829 1354`; of two specimens both, joined by ` + `; null before one was issued. */
  readonly code: string | null;
  readonly closed: boolean;
  readonly practice: boolean;
  /** IANA zone of its clinic, in which its times are written. */
  readonly zone: string;
  readonly steps: readonly StripStep[];
  /** Null for a closed case alone, and so are `until` and the sentence (which is empty). */
  readonly holder: Holder | null;
  /** When the line acts by itself if nobody does, ms. In the past: it does so at its next look. */
  readonly until: number | null;
  readonly ifNobody: string;
}
