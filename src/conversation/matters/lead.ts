/** How a text to a case's people begins. */
import type { Moment } from '../moment.ts';

/** `AK: `, or nothing where no patient is at hand. */
export function leadText(moment: Moment): string {
  const tag = moment.case?.tag ?? '';
  return tag === '' ? '' : `${tag}: `;
}
