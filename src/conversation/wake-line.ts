/** What a due row does that is for nobody in particular: a question climbs, a case is late, the line itself is in trouble. */
import { assertNever } from '../clinical/assert-never.ts';
import { climbQuestion, remindOf } from './climb.ts';
import type { Due } from './event.ts';
import { lookAgain } from './look-again.ts';
import { askOnceThere } from './matters/lost-parcel.ts';
import { changeStock } from './stock.ts';
import type { Turn } from './turn.ts';
import { undelivered } from './undelivered.ts';

/** Handles a due row without a person, or whose person is off the roster. Throws on a row that is for a person and names none. */
export function wakeLine(turn: Turn, { what, personId }: Due): void {
  switch (what.kind) {
    case 'climb':
      climbQuestion(turn, what);
      return;
    case 'stock':
      changeStock(turn, what);
      return;
    case 'look-again':
      if (what.parcel) askOnceThere(turn, what);
      else lookAgain(turn, what);
      return;
    case 'overdue':
      remindOf(turn, what.caseId);
      return;
    case 'undelivered':
      undelivered(turn, what);
      return;
    case 'trouble':
      turn.notify('coordinators', `trouble.${what.key}`, what.lane ?? 'notice', null, null, what.vars);
      return;
    case 'timer':
    case 'tell':
    case 'run':
    case 'answered':
    case 'alarm-again':
    case 'unknown-alarm':
    case 'ask-doctor':
    case 'part-missing':
    case 'picture':
    case 'hand-over':
    case 'receive':
    case 'standing':
    case 'welcome':
    case 'overview':
    case 'line-back':
    case 'mend':
      if (personId === null) throw new Error(`${what.kind} is for a person`);
      // Taken off the roster meanwhile: there is nobody left to say it to.
      return;
    default:
      assertNever(what);
  }
}
