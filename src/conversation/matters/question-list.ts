/** What waits for a doctor, oldest first: one line a question. */
import { specimenOf } from '../../case/case.ts';
import { whenWords } from '../answer-question.ts';
import { isHeld } from '../promise.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { codeText } from './common.ts';

/** `Q47 AK 4829 1354, 4 MAR 11:00: needle or not?`; what somebody has in hand says until when. */
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
      const code = of ? codeText(specimenOf(of, one.item) ?? of.specimens[0] ?? null) : '';
      const who = [`Q${one.tag}`, of?.tag ?? '', code].filter((word) => word !== '').join(' ');
      return `${who}, ${whenWords(turn, person, one.openedAt)}: ${about}${held}`;
    });
}
