/** What a new text changes in an old one, line by line. */

/** One line of a change: taken away or put in, with its place in the text that has it, counted from 1. */
export interface ChangedLine {
  readonly sign: '-' | '+';
  readonly line: number;
  readonly text: string;
}

/** Beyond so many pairs of lines the middle is shown as a whole: nobody reads a change of that size line by line. */
const mostPairs = 4_000_000;

/** Lines that go and come, in the order of the texts; none = they are the same. */
export function changedLines(before: string, after: string): readonly ChangedLine[] {
  const [old, fresh] = [before.split('\n'), after.split('\n')];
  let head = 0;
  while (head < old.length && head < fresh.length && old[head] === fresh[head]) head += 1;
  let tail = 0;
  const most = Math.min(old.length, fresh.length) - head;
  while (tail < most && old[old.length - 1 - tail] === fresh[fresh.length - 1 - tail]) tail += 1;
  const [gone, come] = [old.slice(head, old.length - tail), fresh.slice(head, fresh.length - tail)];
  const common = gone.length * come.length > mostPairs ? [] : commonLines(gone, come);
  const changes: ChangedLine[] = [];
  let [from, to] = [0, 0];
  for (const [inOld, inNew] of [...common, [gone.length, come.length] as const]) {
    for (; from < inOld; from += 1) changes.push({ sign: '-', line: head + from + 1, text: gone[from]! });
    for (; to < inNew; to += 1) changes.push({ sign: '+', line: head + to + 1, text: come[to]! });
    [from, to] = [inOld + 1, inNew + 1];
  }
  return changes;
}

/** Places of the longest common lines in both, by the usual table. */
function commonLines(a: readonly string[], b: readonly string[]): readonly (readonly [number, number])[] {
  const width = b.length + 1;
  const longest = new Uint32Array((a.length + 1) * width);
  for (let i = a.length - 1; i >= 0; i -= 1) {
    for (let j = b.length - 1; j >= 0; j -= 1) {
      longest[i * width + j] =
        a[i] === b[j]
          ? longest[(i + 1) * width + j + 1]! + 1
          : Math.max(longest[(i + 1) * width + j]!, longest[i * width + j + 1]!);
    }
  }
  const pairs: (readonly [number, number])[] = [];
  let [i, j] = [0, 0];
  while (i < a.length && j < b.length) {
    if (a[i] === b[j]) {
      pairs.push([i, j]);
      i += 1;
      j += 1;
    } else if (longest[(i + 1) * width + j]! >= longest[i * width + j + 1]!) i += 1;
    else j += 1;
  }
  return pairs;
}
