/**
 * Wrong tags, secret digits and codes from one phone. A number is a claim, so whoever writes in somebody's name can try
 * digits; each try is counted, the coordinator hears, and the digits get longer before they could be found by trying.
 */

import { durationOf, limitOf } from './programme.ts';
import { fewestTagDigits, mostTagDigits } from './question-tag.ts';
import type { Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Instants kept of either kind. */
const mostKept = 10;

/** Wrong tags and secrets of the last day. */
function wrongToday(turn: Turn): number {
  const day = durationOf(turn.world.programme, 'guess-window');
  return turn.state.wrongAt.filter((at) => at > turn.now - day).length;
}

/**
 * Digits that a secret or a tag has for this phone: two, two more after each `wrong-digits` wrong ones of a day, six at
 * the most. 3 tries of 90, then of 9,000, then of 900,000.
 */
export function secretWidth(turn: Turn): 2 | 4 | 6 {
  const steps = Math.floor(wrongToday(turn) / limitOf(turn.world.programme, 'wrong-digits'));
  return steps === 0 ? fewestTagDigits : steps === 1 ? 4 : mostTagDigits;
}

/** Counts a wrong tag or secret. True: the digits of this phone are longer from now on, and the coordinator hears of it. */
export function countWrongDigits(turn: Turn, person: Person): boolean {
  const before = secretWidth(turn);
  const day = durationOf(turn.world.programme, 'guess-window');
  const wrongAt = [...turn.state.wrongAt.filter((at) => at > turn.now - day), turn.now].slice(-mostKept);
  turn.state = { ...turn.state, wrongAt };
  if (secretWidth(turn) === before) return false;
  turn.notify('coordinators', 'doctor.many-wrong-tags', 'notice', null, null, { who: person.name });
  return true;
}

/**
 * Gives the open questions of a doctor whose phone sends wrong tags longer ones, and shows them again to everybody who was
 * asked: what was guessed so far is worth nothing, and the real doctor reads the new tag.
 */
export function lengthenTags(turn: Turn, person: Person): void {
  for (const question of turn.questions) {
    if (question.answeredAt !== null || !question.askedOf.includes(person.id)) continue;
    const longer = withLongTag(turn, question);
    if (longer === question) continue;
    for (const id of question.askedOf) {
      turn.post(id, { kind: 'ask-doctor', questionId: question.id, rung: question.rung }, { caseId: question.caseId });
    }
  }
}

/** The question with a tag as long as this phone's guesses ask for; unchanged where it is that long already. */
export function withLongTag(turn: Turn, question: Question): Question {
  const width = secretWidth(turn);
  if (question.tag.length >= width) return question;
  const longer = { ...question, tag: turn.freeTag(width) };
  turn.putQuestion(longer);
  return longer;
}

/**
 * A code with sound check digits that this person may not see, or that nobody issued. Typing errors fail the check digits,
 * so several of these are guesses. True: this phone has sent too many within the hour, and codes that are not its own are
 * not looked at any more.
 */
export function guessesCodes(turn: Turn): boolean {
  return wrongCodesLately(turn).length >= limitOf(turn.world.programme, 'wrong-codes-most');
}

function wrongCodesLately(turn: Turn): readonly number[] {
  const hour = durationOf(turn.world.programme, 'wrong-code-window');
  return (turn.state.wrongCodesAt ?? []).filter((at) => at > turn.now - hour);
}

/** Counts a code that was refused; the coordinator hears when there are many. */
export function countWrongCode(turn: Turn, person: Person): void {
  const { programme } = turn.world;
  const wrongCodesAt = [...wrongCodesLately(turn), turn.now].slice(-limitOf(programme, 'wrong-codes-most'));
  const told = wrongCodesLately(turn).length === limitOf(programme, 'wrong-codes-told') - 1;
  turn.state = { ...turn.state, wrongCodesAt };
  if (told) turn.notify('coordinators', 'desk.many-wrong-codes', 'notice', null, null, { who: person.name });
}
