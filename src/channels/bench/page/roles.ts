/** What somebody is on the line, in the page's words. */
import { isRole } from '../../../case/roles.ts';
import type { Say } from './words.ts';

/** `doctor`, or `doctor, coordinator`. */
export function rolesText(roles: readonly string[], say: Say): string {
  return roles
    .filter(isRole)
    .map((role) => say(`page-role-${role}`))
    .join(', ');
}
