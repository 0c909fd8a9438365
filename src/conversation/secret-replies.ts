import type { FlowAsk } from './flow.ts';
import { secretWidth } from './guesses.ts';
import type { OpenAsk } from './state.ts';
import type { Turn } from './turn.ts';

/**
 * For each secret option of a question, by its id, digits that no other answer has, more where somebody guesses; a repeated
 * question keeps its own.
 *
 * @param number what stands before every reply of this question, or ''
 */
export function secretReplies(
  turn: Turn,
  ask: FlowAsk,
  number: string,
  repeated: OpenAsk | null,
): ReadonlyMap<string, string> {
  const secrets = new Map<string, string>();
  const hidden = ask.options.filter((one) => one.secret && one.alarm === undefined);
  if (hidden.length === 0) return secrets;
  const width = secretWidth(turn);
  const taken = new Set(ask.options.filter((one) => !one.secret).map((one) => `${number}${one.reply}`));
  for (const { id } of hidden) {
    let digits = repeated?.options.find((one) => one.id === id)?.reply ?? '';
    while (digits.length < width || taken.has(digits)) digits = turn.draw.digits(width);
    taken.add(digits);
    secrets.set(id, digits);
  }
  return secrets;
}
