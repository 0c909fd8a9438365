/** What waits for a doctor, oldest first: one line a question. */
import { whenWords } from '../answer-question.ts';
import { isHeld } from '../promise.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';

/** `Q47 AK 4829 1354 result, 4 MAR 11:00`; what somebody has in hand says until when. */
export function questionLines(turn: Turn, person: Person): readonly string[] {
  const { texts } = turn.world;
  return turn.questions
    .filter((one) => one.answeredAt === null && one.askedOf.includes(person.id))
    .sort((a, b) => a.openedAt - b.openedAt)
    .map((one) => {
      const of = turn.caseOf(one.caseId);
      const about = texts.render(person.locale, `doctor.about-${one.about}`, () => '');
      const held = isHeld(one, turn.now)
        ? ` (${texts.render(person.locale, 'doctor.held-until', () => whenWords(turn, person, one.promiseUntil!))})`
        : '';
      const words = [`Q${one.tag}`, of?.tag ?? '', about, whenWords(turn, person, one.openedAt)];
      return `${words.filter((word) => word !== '').join(' ')}${held}`;
    });
}
