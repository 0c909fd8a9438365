import type { ShownOption } from './answer.ts';
import { longestPhrase, wordsOf } from './reply.ts';

/** More words in a row are never one accepted phrase. */
const mostWords = 6;

/**
 * The options that a reply names, in the order sent, with repetitions; null when any part of it is no option. Words and
 * whole replies (`21`) come first; then a run of one-character replies (`134`, `1357H`). A word that stands for two
 * options stands for none. `joiners` are words that may stand between (`and`), folded.
 */
export function matchOptions(
  text: string,
  options: readonly ShownOption[],
  joiners: readonly string[] = [],
): readonly ShownOption[] | null {
  const vocabulary = vocabularyOf(options);
  const single = new Map(
    options.filter((option) => [...option.reply].length === 1).map((option) => [option.reply.toLowerCase(), option]),
  );
  // `1.3.4` is a list: no option of a question is a decimal number.
  const words = wordsOf(text.replace(/(?<=\d)\.(?=\d)/g, ' '));
  const found: ShownOption[] = [];
  for (let at = 0; at < words.length; ) {
    const phrase = longestPhrase(words, at, vocabulary, mostWords);
    if (phrase) {
      if (phrase.meaning === 'several') return null;
      found.push(phrase.meaning);
      at += phrase.length;
      continue;
    }
    const word = words[at]!;
    at += 1;
    if (joiners.includes(word)) continue;
    const pairs = pairsOf(word, options);
    if (pairs) {
      found.push(...pairs);
      continue;
    }
    const run = [...word].map((character) => single.get(character));
    if (!run.every((option) => option !== undefined)) return null;
    found.push(...run);
  }
  return found;
}

/** `4145`, `4145C`: replies of two digits run together, with letters among them; null = it is not that. */
function pairsOf(word: string, options: readonly ShownOption[]): readonly ShownOption[] | null {
  const pieces = word.match(/\d\d|\D/gu) ?? [];
  if (pieces.length < 2 || pieces.join('') !== word) return null;
  const named = pieces.map((piece) => options.find((option) => option.reply.toLowerCase() === piece));
  return named.every((option) => option !== undefined) ? named : null;
}

function vocabularyOf(options: readonly ShownOption[]): ReadonlyMap<string, ShownOption | 'several'> {
  const vocabulary = new Map<string, ShownOption | 'several'>();
  for (const option of options) {
    for (const phrase of [option.reply, ...option.words]) {
      const key = wordsOf(phrase).join(' ');
      if (key === '') continue;
      const before = vocabulary.get(key);
      vocabulary.set(key, before === undefined || before === option ? option : 'several');
    }
  }
  return vocabulary;
}
