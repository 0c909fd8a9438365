/** A question with each of its options on a line of its own: the same words, and not longer. */

/** Replies that stand before their words in a text; others (`ALL`, `OK`, `YES 4718`) stand within a sentence. */
const leading = /^[\p{L}\p{N}]{1,2}$/u;

/**
 * Puts a line break before each of `replies` (`1`, `60`, `H`) that stands in the text in their order with words behind it,
 * and before the sentence that follows the last option. What lies before the first option stays as it is.
 */
export function optionLines(text: string, replies: readonly string[]): string {
  let lines = text;
  let from = 0;
  for (const reply of replies.filter((one) => leading.test(one))) {
    const found = new RegExp(` (?=${reply} \\p{L})`, 'u').exec(lines.slice(from));
    if (!found) continue;
    const at = from + found.index;
    lines = `${lines.slice(0, at)}\n${lines.slice(at + 1)}`;
    from = at + 1;
  }
  if (from === 0) return text;
  return lines.slice(0, from) + lines.slice(from).replace(/(?<=[.?!؟]) (?=[\p{Lu}\p{Lo}¿¡])/u, '\n');
}
