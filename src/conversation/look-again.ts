/** The day to look again at a patient: whoever works at the site then is asked, and where nobody does the coordinators hear. */
import type { DueWhat } from './event.ts';
import { seenSince } from './matters/again.ts';
import { carrier } from './people.ts';
import { durationOf } from './programme.ts';
import type { Turn } from './turn.ts';

/** Times that the coordinators are told of one patient while nobody of the site is on the line. Line convention. */
const mostTold = 8;

/** Asks the worker who carries the case, else a colleague; with nobody there the coordinators, again each week. */
export function lookAgain(turn: Turn, what: DueWhat & { readonly kind: 'look-again' }): void {
  const of = turn.caseOf(what.caseId);
  // Examined again before the day, by whatever way: the new case has a day of its own.
  if (!of || seenSince(turn.cases, of)) return;
  const { caseId, item, told } = what;
  const to = carrier(turn.world, of);
  if (to) {
    turn.post(to.id, { kind: 'run', flow: 'review', caseId, item, vars: {} }, { caseId });
    return;
  }
  turn.notify('coordinators', 'review.nobody', 'notice', caseId, item, {});
  if (told + 1 >= mostTold) return;
  const at = turn.now + durationOf(turn.world.programme, 'duty-action');
  turn.post(null, { ...what, told: told + 1 }, { caseId, at });
}
