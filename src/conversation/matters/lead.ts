/** How a text to a case's people begins. */
import type { Moment } from '../moment.ts';
import { caseName } from './case-name.ts';

/** `AK: `, or nothing where no patient is at hand. */
export function leadText(moment: Moment): string {
  const tag = caseName(moment.person, moment.case, moment.specimen?.id ?? null);
  return tag === '' ? '' : `${tag}: `;
}
