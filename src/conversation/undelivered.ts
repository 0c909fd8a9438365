/** A text that somebody needed never reached them. */
import type { DueWhat } from './event.ts';
import { ladder, personById } from './people.ts';
import type { Turn } from './turn.ts';

/**
 * What was asked of a doctor is asked of the next one now, until everybody was asked: then the ladder's own pause comes
 * first, or doctors whom no link reaches would be asked round and round. The coordinators hear once in a while who is not
 * reached.
 */
export function undelivered(turn: Turn, what: DueWhat & { readonly kind: 'undelivered' }): void {
  const person = personById(turn.world, what.to);
  if (!person) return;
  const doctors = ladder(turn.world, turn.now).length;
  const waiting = turn.questions.filter(
    (one) => one.answeredAt === null && one.askedOf.at(-1) === person.id && one.rung < doctors,
  );
  for (const one of waiting) {
    const climb = { kind: 'climb', questionId: one.id, rung: one.rung + 1, not: person.id } as const;
    turn.post(null, climb, { caseId: one.caseId });
  }
  if (what.again) return;
  const caseId = turn.event.kind === 'due' ? turn.event.due.caseId : null;
  turn.notify('coordinators', 'trouble.undelivered', 'notice', caseId, null, { who: person.name });
}
