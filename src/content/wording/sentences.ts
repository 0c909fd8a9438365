/** A screen taken apart as its reader takes it in: its options, and the sentences around and inside them. */

/** Replies that stand before their words in a text, with letter and number of a lump (`RU21`); others (`ALL`, `YES 4718`) stand within a sentence. */
const leading = /^(?:[\p{L}\p{N}]{1,2}|\p{Lu}{1,2}\p{N}{2})$/u;

/** One option as it is shown. */
export interface ShownOption {
  readonly reply: string;
  /** What stands behind it, up to the next option or the end of its sentence. */
  readonly words: string;
}

/** A screen as options and the rest. */
export interface TakenApart {
  readonly options: readonly ShownOption[];
  /** Sentences, those of the options last; no tag, no reply. */
  readonly sentences: readonly string[];
}

/**
 * Finds the options of a screen by the replies that its question takes, in their order, and cuts what is left into
 * sentences: a full stop, a question mark, an exclamation mark, a colon, a semicolon and an option end one.
 */
export function takeApart(screen: string, replies: readonly string[]): TakenApart {
  const starts: { readonly reply: string; readonly at: number }[] = [];
  for (const reply of replies.filter((one) => leading.test(one))) {
    const from = (starts.at(-1)?.at ?? -1) + 1;
    const found = new RegExp(`(?<=^|[\\s:.;?])${reply} (?=[\\p{L}\\d"(])`, 'u').exec(screen.slice(from));
    if (found) starts.push({ reply, at: from + found.index });
  }
  const cuts = [...starts.map(({ at }) => at), screen.length];
  const options: ShownOption[] = [];
  const rest = [screen.slice(0, cuts[0])];
  for (const [index, { reply, at }] of starts.entries()) {
    const [words = '', ...behind] = cut(screen.slice(at + reply.length + 1, cuts[index + 1]));
    options.push({ reply, words });
    rest.push(...behind);
  }
  return { options, sentences: [...rest.flatMap(cut), ...options.map(({ words }) => words)] };
}

/** Sentences of plain text, without the sign at their end unless they ask. A point within a number or a name (`2.8`, `Dr.`) ends none. */
function cut(text: string): readonly string[] {
  return text
    .split(/(?<=[.?!:;؟؛])\s+|\n+/u)
    .map((one) => one.replace(/[.!:;,؛،\s]+$/u, '').trim())
    .filter((one) => one !== '');
}

/** Words of a sentence, as they are written; figures are none. */
export function wordsOf(sentence: string): readonly string[] {
  return sentence.match(/\p{L}[\p{L}\p{M}'’-]*/gu) ?? [];
}
