import { CODE_LENGTHS } from '../case/code.ts';

/** Codes are looked for in at most this many places of one text. */
const mostCandidates = 40;

const longest = Math.max(...CODE_LENGTHS);

const digitRun = /\p{Nd}+/gu;

/** The ASCII digit of a decimal digit of any script. */
function asciiDigit(character: string): string {
  let zero = character.codePointAt(0)!;
  const code = zero;
  while (/\p{Nd}/u.test(String.fromCodePoint(zero - 1))) zero -= 1;
  return String((code - zero) % 10);
}

/**
 * Every run of as many digits as a code has, in a text that could be a case code, also when groups are parted by one space, dash or
 * dot, in any digit script. Says nothing about check digits: only the table of codes knows.
 */
export function codeCandidates(text: string): readonly string[] {
  const runs = [...text.matchAll(digitRun)].map((found) => ({
    digits: [...found[0]].map((one) => (one >= '0' && one <= '9' ? one : asciiDigit(one))).join(''),
    from: found.index,
    to: found.index + found[0].length,
  }));
  const candidates = new Set<string>();
  for (const [first, start] of runs.entries()) {
    let joined = '';
    let end = start.from;
    for (const next of runs.slice(first)) {
      const between = text.slice(end, next.from);
      if (joined !== '' && !/^[ \u00a0.\-–]$/u.test(between)) break;
      joined += next.digits;
      end = next.to;
      if (joined.length > longest) break;
      if (CODE_LENGTHS.includes(joined.length)) candidates.add(joined);
    }
    if (candidates.size >= mostCandidates) break;
  }
  return [...candidates];
}
