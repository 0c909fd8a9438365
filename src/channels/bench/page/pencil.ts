/** Whether what was pencilled on a slide is the code of this specimen; pure. */
import { checkCode } from '../../../case/code.ts';

/** `other`: a code, but another one. `wrong`: these digits are no code: at least one is wrong. */
export type Pencilled = 'right' | 'unfinished' | 'wrong' | 'other';

/** `code`: as the line gave it, digits only. */
export function pencilled(text: string, code: string): Pencilled {
  const checked = checkCode(text);
  if (checked.ok) return checked.code === code ? 'right' : 'other';
  if (checked.reason === 'length' && text.replace(/\D/gu, '').length < code.length) return 'unfinished';
  return 'wrong';
}
