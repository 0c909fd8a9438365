/** A text that somebody needed never reached them. */
import type { DueWhat } from './event.ts';
import { personById } from './people.ts';
import type { Turn } from './turn.ts';

/** What was asked of a doctor is asked of the next one now; the coordinators hear once in a while who is not reached. */
export function undelivered(turn: Turn, what: DueWhat & { readonly kind: 'undelivered' }): void {
  const person = personById(turn.world, what.to);
  if (!person) return;
  const waiting = turn.questions.filter(
    (one) => one.answeredAt === null && one.askedOf.at(-1) === person.id && person.roles.includes('doctor'),
  );
  for (const one of waiting) {
    // Not asked again at once, even as the only doctor: the ladder's own pause comes first.
    turn.post(null, { kind: 'climb', questionId: one.id, rung: one.rung + 1, not: person.id }, { caseId: one.caseId });
  }
  if (what.again) return;
  const caseId = turn.event.kind === 'due' ? turn.event.due.caseId : null;
  turn.notify('coordinators', 'trouble.undelivered', 'notice', caseId, null, { who: person.name });
}
