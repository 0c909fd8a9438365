import { numbersOf, valuesOf } from '../content/same-content.ts';
import { compileTemplate } from '../text/render.ts';
import { screenBreak } from '../text/screens.ts';
import type { EntryKind, Written } from './entry.ts';

/** What another wording of the same language has to keep: its values and its numbers. Null when it keeps them. */
export function whatIsLost(
  kind: EntryKind,
  was: Written,
  becomes: Written,
): readonly [what: string, todo: string] | null {
  const [before, after] = [was, becomes].map((one) => compileTemplate(joined(one)));
  const [values, newValues] = [valuesOf([before!]), valuesOf([after!])];
  if (values !== newValues)
    return [`has the values ${newValues || 'none'}, it had ${values || 'none'}`, 'use the same'];
  // Words that are heard may gain some with a number in it.
  if (kind !== 'text' && kind !== 'print') return null;
  const [numbers, newNumbers] = [numbersOf(before!), numbersOf(after!)];
  if (numbers === newNumbers) return null;
  return [`has the numbers ${newNumbers || 'none'}, it had ${numbers || 'none'}`, 'write the same numbers'];
}

/** The screens of a text in one, as a file's reader joins them. */
export function joined(written: Written): string {
  return typeof written === 'string' ? written : written.join(screenBreak);
}
