/** What of a case's history is told to people: everything but single answers, reminders and digits to be quoted. */
import type { CaseEvent, CaseHappening } from './events.ts';

/** One thing that happened, with who and when. */
export interface Milestone {
  readonly at: number;
  /** Person id, or `line`. */
  readonly by: string;
  readonly event: ToldEvent;
}

/** Answers stand in the case as they are now; the others are about the conversation, not about the patient. */
type Untold =
  | 'answered'
  | 'retagged'
  | 'code-checked'
  | 'read-back'
  | 'read-back-dropped'
  | 'acknowledged'
  | 'reminded'
  | 'stale';

type Decided = Extract<CaseEvent, { readonly type: 'decided' }>;

/** An event that is told; of a decision its outcome, without the assessment. */
export type ToldEvent =
  | Exclude<CaseEvent, { readonly type: Untold | 'decided' }>
  | Pick<Decided, 'type' | 'decision' | 'policy'>;

/** What people are told of this record; null = nothing. */
export function milestoneOf(record: CaseHappening): Milestone | null {
  const { at, by, event } = record;
  switch (event.type) {
    case 'answered':
    case 'retagged':
    case 'code-checked':
    case 'read-back':
    case 'read-back-dropped':
    case 'acknowledged':
    case 'reminded':
    case 'stale':
      return null;
    case 'decided':
      return { at, by, event: { type: 'decided', decision: event.decision, policy: event.policy } };
    default:
      return { at, by, event };
  }
}
