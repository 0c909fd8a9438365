/** What somebody is on the line, in the order of print. Whatever differs by role is a complete record over this list. */
export const roles = ['worker', 'doctor', 'lab', 'coordinator'] as const;
export type Role = (typeof roles)[number];

/** Whether a word is a role. */
export function isRole(word: string): word is Role {
  return roles.some((one) => one === word);
}
