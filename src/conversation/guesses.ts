/**
 * Wrong tags, secret digits and codes from one phone. A number is a claim, so whoever writes in somebody's name can try
 * digits; each try is counted, the coordinator hears, and the digits get longer before they could be found by trying.
 */

import type { Moment } from './moment.ts';
import { durationOf, limitOf, type Programme } from './programme.ts';
import { fewestTagDigits, mostTagDigits } from './question-tag.ts';
import type { Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Digits that a secret has at first and at the most: `YES 4718`, `send 4718`. A tag (`question-tag.ts`) begins with two. */
const fewestSecretDigits = 4;
const mostSecretDigits = 12;

/** Instants kept: as many as make secrets as long as they get. */
const mostKept = 12;

/** How often the wrong ones since then have filled the programme's limit. */
function wrongWithin(programme: Programme, wrongAt: readonly number[], now: number, window: string): number {
  const since = now - durationOf(programme, window);
  return Math.floor(wrongAt.filter((at) => at > since).length / limitOf(programme, 'wrong-digits'));
}

/** Digits that a doctor's tag has for this phone: two, two more after each `wrong-digits` wrong ones of a day, six at the most. */
function tagWidth({ world, state, now }: Guessed): 2 | 4 | 6 {
  const steps = wrongWithin(world.programme, state.wrongAt, now, 'guess-window');
  return steps === 0 ? fewestTagDigits : steps === 1 ? 4 : mostTagDigits;
}

/** As much of a turn as widths hang on. */
type Guessed = Pick<Turn, 'world' | 'state' | 'now'>;

/**
 * Digits that a secret has for this phone: four, two more after each `wrong-digits` wrong ones of a month. 3 tries of 9,000
 * in a month, then 3 of 900,000, and so on: however many texts somebody sends, it adds up to little more than the first three.
 */
export function secretWidth({ world, state, now }: Guessed): number {
  const steps = wrongWithin(world.programme, state.wrongSecretsAt ?? [], now, 'guess-month');
  return Math.min(mostSecretDigits, fewestSecretDigits + 2 * steps);
}

/** The same, as a recorder sees it. */
export function secretWidthOf({ world, now }: Moment): number {
  return secretWidth({ world, state: world.conversation, now });
}

/**
 * Counts a wrong tag, or a wrong secret, which may have been meant as a tag. True: digits of this phone are longer from now
 * on, and the coordinator hears of it.
 */
export function countWrongDigits(turn: Turn, person: Person, meant: 'tag' | 'secret'): boolean {
  const before = [tagWidth(turn), secretWidth(turn)].join();
  const { wrongAt, wrongSecretsAt = [] } = turn.state;
  const and = (kept: readonly number[]): readonly number[] => [...kept, turn.now].slice(-mostKept);
  turn.state = { ...turn.state, wrongAt: and(wrongAt) };
  if (meant === 'secret') turn.state = { ...turn.state, wrongSecretsAt: and(wrongSecretsAt) };
  if ([tagWidth(turn), secretWidth(turn)].join() === before) return false;
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
  const width = tagWidth(turn);
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
