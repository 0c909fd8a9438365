/**
 * What somebody is on the line, in the order of print. Who may do what: `conversation/authority.ts`, and the `roles` of
 * each command in its matter; the table of both is deploy/roles.md.
 */
export const roles = ['worker', 'doctor', 'lab', 'coordinator'] as const;
export type Role = (typeof roles)[number];

/** Whether a word is a role. */
export function isRole(word: string): word is Role {
  return roles.some((one) => one === word);
}
