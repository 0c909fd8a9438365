import { foldWord } from '../../text/fold.ts';
import { type Parsed, read, unreadable } from './answer.ts';
import { longestReply, tidy } from './reply.ts';

/** What a number must be: inclusive limits in the unit asked for, most decimals, and unit words that may follow (folded). */
export interface NumberRule {
  readonly min: number;
  readonly max: number;
  readonly decimals: number;
  readonly units?: readonly string[];
}

/** A number with point or comma for the decimals, never both: `1,500` has three decimals and is asked again where fewer are allowed. */
export function readNumber(text: string, rule: NumberRule): Parsed<number> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = tidy(text);
  if (plain === '') return unreadable('empty');
  const match = /^([+-]?\d{1,12})(?:[.,٫](\d{1,12}))?\s*(\p{L}[^\d]{0,40})?[.!]*$/u.exec(plain);
  if (!match) return unreadable('not-a-number');
  const [, whole = '', decimals = '', unit = ''] = match;
  const unitWord = foldWord(unit.replace(/[.!\s]+$/u, ''));
  if (unitWord !== '' && !rule.units?.includes(unitWord)) return unreadable('not-a-number');
  if (decimals.length > rule.decimals) return unreadable('too-many-decimals');
  const value = Number(`${whole}.${decimals || '0'}`);
  return value >= rule.min && value <= rule.max ? read(value) : unreadable('out-of-range');
}
