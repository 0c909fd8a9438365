/** Codes as people text them, and who may see the case behind one. */

import { type Case, specimenOf } from '../../case/case.ts';
import { findCodes, formatCode } from '../../case/code.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import { toAsciiDigits } from '../../text/digits.ts';
import { laboratoryIdsWith } from '../case-laboratory.ts';
import { countWrongCode, guessesCodes } from '../guesses.ts';
import { restoredLately } from '../restored.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';

/** Codes in a text that are valid; what looks like a code and is not comes back as `wrong`. */
export function codesIn(text: string): { readonly codes: readonly string[]; readonly wrong: readonly string[] } {
  const plain = toAsciiDigits(text);
  const found = findCodes(plain);
  return {
    codes: found.flatMap((one) => one.code ?? []),
    wrong: [
      ...found.flatMap((one) => (one.code === null ? [plain.slice(one.from, one.to)] : [])),
      ...[...plain.matchAll(withLetters)].map(([all]) => all).filter((all) => all.replace(/\D/gu, '').length >= 5),
    ],
  };
}

/** Eight signs like a code, some of them letters that look like digits: never repaired, and said so. */
const withLetters = /(?<![\p{L}\p{N}])(?=[\d\s-]*[OoIl])[\dOoIl]{4}[\s-]?[\dOoIl]{4}(?![\p{L}\p{N}])/gu;

/** The text without the codes in it. */
export function withoutCodes(text: string): string {
  const plain = toAsciiDigits(text);
  let rest = '';
  let from = 0;
  for (const one of findCodes(plain)) {
    rest += `${plain.slice(from, one.from)} `;
    from = one.to;
  }
  return `${rest}${plain.slice(from)}`.replace(/[ \t]+/g, ' ').trim();
}

/** May this person see the case? Its site's workers, the programme's doctors and coordinators, its laboratory once posted. */
export function maySee(person: Person, of: Case): boolean {
  if (person.roles.includes('doctor') || person.roles.includes('coordinator')) return true;
  if (person.roles.includes('worker') && person.siteId === of.siteId) return true;
  return person.roles.includes('lab') && laboratoryIdsWith(of).includes(person.siteId);
}

/** The case that a code names, if this person may see it. For first aid: nothing is counted, nothing is closed. */
export function caseNamed(turn: Turn, person: Person, code: string): Case | null {
  const of = turn.cases.find((one) => specimenOf(one, code) !== null);
  return of && maySee(person, of) ? of : null;
}

/**
 * The same for everything else: a code that is refused counts as a guess, and a phone that guesses finds nothing but the
 * patients it is busy with.
 */
export function caseByCode(turn: Turn, person: Person, code: string): Case | null {
  const of = caseNamed(turn, person, code);
  const busy = of !== null && (of.ownerId === person.id || turn.threads.some((one) => one.caseId === of.id));
  if (busy || (of !== null && !guessesCodes(turn))) return of;
  countWrongCode(turn, person);
  return null;
}

/**
 * The answer to a code that nobody issued or that is not for this person: the same words for both. A line that was brought
 * back from a backup lately may have issued it after that: it says so, and the coordinators hear of what it does not know.
 */
export function refuseCode(turn: Turn, person: Person, code: string, key: TextKey = 'desk.unknown-code'): void {
  const vars = { shownCode: formatCode(code), shownCodePlain: code, who: person.name };
  const closed = guessesCodes(turn);
  const lately = !closed && key.endsWith('.unknown-code') && restoredLately(turn.world, turn.now);
  const said = closed ? 'desk.codes-closed' : lately ? 'desk.code-of-before' : key;
  turn.say(person, said, { frame: null, caseId: null, vars });
  const known = turn.cases.some((one) => specimenOf(one, code) !== null);
  if (lately && !known) turn.notify('coordinators', 'desk.lost-code', 'notice', null, null, vars);
}
