/** What a text itself says behind each of its replies: the words of whoever reads it. */

/** Replies that stand before their words: `1`, `60`, `H`, `R11`; a word or a secret (`ALL`, `4718`) stands within a sentence. */
const leading = /^(?:[\p{L}\p{N}]{1,2}|\p{L}{1,2}\p{N}{2})$/u;

/**
 * By reply: `reply 47 and: 1 I phone the clinic 2 hospital now. Or 47 and ...` gives `I phone the clinic` for `1` and
 * `hospital now` for `2`. `replies` as they stand in the text, in their order; one that does not stand there so has no words.
 */
export function optionWords(text: string, replies: readonly string[]): ReadonlyMap<string, string> {
  const found: { readonly reply: string; readonly from: number; readonly wordsFrom: number }[] = [];
  let from = 0;
  for (const reply of replies.filter((one) => leading.test(one))) {
    const at = new RegExp(`(?<=^|\\s)${reply}:? (?=\\p{L})`, 'u').exec(text.slice(from));
    if (!at) continue;
    const wordsFrom = from + at.index + at[0].length;
    found.push({ reply, from: from + at.index, wordsFrom });
    from = wordsFrom;
  }
  return new Map(
    found.map(({ reply, wordsFrom }, place) => {
      const words = text.slice(wordsFrom, found[place + 1]?.from ?? text.length);
      // A sentence that begins behind the last option is no part of it, nor is an own line.
      const [own = ''] = words.split(/(?<=[.?!؟]) (?=[\p{Lu}\p{Lo}¿¡])|\n/u);
      return [reply, own.trim().replace(/[.,;:،؛]$/u, '')] as const;
    }),
  );
}
