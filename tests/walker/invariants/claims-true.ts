import type { Invariant } from './invariant.ts';

/** Each text that claims something was held against the record when it was said: `tests/support/claims/table.ts`. */
export const claimsTrue: Invariant = {
  name: 'what a text claims is so when it is said',
  broken: ({ untrue }) => untrue,
};
