/** Full name and birth date that a case may keep for its label, by the programme's privacy mode. */
import { answerOf, type Case } from './case.ts';

/** Field of the answer that is the full name. */
export const nameField = 'label.name';
/** Field of the answer that is the birth date, `2030-03-04`. */
export const bornField = 'label.born';

/**
 * True: the text holds the full name that the case keeps, which no SMS may carry. However the label breaks it into lines:
 * only letters are compared.
 */
export function holdsName(of: Case, text: string): boolean {
  const name = answerOf(of, nameField);
  return typeof name === 'string' && lettersOf(text).includes(lettersOf(name));
}

function lettersOf(text: string): string {
  return text.replace(/[^\p{L}\p{M}]+/gu, '');
}
