/** Full name and birth date that a case may keep for its label, by the programme's privacy mode. */
import { answerOf, type Case } from './case.ts';

/** Field of the answer that is the full name. */
export const nameField = 'label.name';
/** Field of the answer that is the birth date, `2030-03-04`. */
export const bornField = 'label.born';

/** The full name that a case keeps, which no text by SMS may hold; null = none is kept. */
export function keptName(of: Case): string | null {
  const name = answerOf(of, nameField);
  return typeof name === 'string' ? name : null;
}
