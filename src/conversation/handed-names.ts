/** Flows and states that code names when it starts or enters them. `check` refuses content that lacks one. */

/** Flows that code starts. */
export const startedFlows = [
  ...(['action', 'ask', 'credit', 'cry', 'join', 'lab-asks', 'let-go', 'locked', 'new', 'read-back'] as const),
  ...(['referral', 'rejected', 'reporter', 'review', 'second', 'sos', 'staff', 'thy1-reason', 'unusable'] as const),
] as const;

/** States that code enters, by their flow. */
export const enteredStates = { sos: ['sign'] } as const;
