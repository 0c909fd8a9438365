/** The known word nearest to a mistyped one, at most two edits away (one in words under four letters); null when none is near. */
export function closest(word: string, known: Iterable<string>): string | null {
  const most = word.length >= 4 ? 2 : 1;
  let best: string | null = null;
  let bestEdits = most + 1;
  for (const candidate of known) {
    const edits = editsBetween(word.toLowerCase(), candidate.toLowerCase());
    if (edits < bestEdits) {
      best = candidate;
      bestEdits = edits;
    }
  }
  return best;
}

/** `did you mean x?`, or else the list of what is known, or else `otherwise`. */
export function suggestion(word: string, known: Iterable<string>, otherwise: string): string {
  const list = [...known];
  const near = closest(word, list);
  if (near !== null) return `did you mean ${near}?`;
  return list.length > 0 && list.length <= 12 ? `use one of: ${list.join(', ')}` : otherwise;
}

/** Levenshtein distance. */
function editsBetween(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const swap = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(swap, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
