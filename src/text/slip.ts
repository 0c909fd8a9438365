/** One letter too many, too few, another, or two neighbours the wrong way round: what a frightened thumb does to a word. */

/** True when the two words are at most one such slip apart (optimal string alignment distance of at most 1). */
export function isOneSlip(one: string, other: string): boolean {
  if (one === other) return true;
  if (Math.abs(one.length - other.length) > 1) return false;
  let from = 0;
  while (from < one.length && one[from] === other[from]) from += 1;
  const rest = one.slice(from);
  const otherRest = other.slice(from);
  if (rest.slice(1) === otherRest.slice(1)) return true;
  if (rest === otherRest.slice(1) || rest.slice(1) === otherRest) return true;
  return rest[0] === otherRest[1] && rest[1] === otherRest[0] && rest.slice(2) === otherRest.slice(2);
}

/** The word itself and each form of it with one letter left out: two words share one of these whenever they are one slip apart. */
export function shortened(word: string): readonly string[] {
  return [word, ...Array.from(word, (_, at) => word.slice(0, at) + word.slice(at + 1))];
}
