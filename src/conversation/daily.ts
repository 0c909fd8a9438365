/** Texts of one phone in one day: many of them are told once and put off reminders. Nothing urgent ever waits for a figure. */
import type { Due } from './event.ts';
import { limitOf } from './programme.ts';
import { addDays, dayText, instantOf, localTime } from './schedule.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

function today(turn: Turn): string {
  return dayText(localTime(turn.now, turn.world.programme.zone));
}

/** Counts one text of this person. The coordinators hear when the day's figure is passed, once. */
export function countHeard(turn: Turn, person: Person): void {
  const day = today(turn);
  const before = turn.state.heard?.day === day ? turn.state.heard.count : 0;
  turn.state = { ...turn.state, heard: { day, count: before + 1 } };
  const most = limitOf(turn.world.programme, 'texts-a-day');
  if (before === most) {
    const vars = { who: person.name, count: String(most) };
    turn.notify('coordinators', 'common.many-texts', 'notice', null, null, vars);
  }
}

/** True: a reminder to a phone that sent too many texts today; it comes tomorrow. */
export function putOff(turn: Turn, person: Person, due: Due): boolean {
  if (due.what.kind !== 'tell' || due.what.lane !== 'reminder') return false;
  const { heard } = turn.state;
  const { programme } = turn.world;
  if (heard?.day !== today(turn) || heard.count <= limitOf(programme, 'texts-a-day')) return false;
  const tomorrow = addDays(localTime(turn.now, programme.zone), 1);
  const at = instantOf(tomorrow, programme.daytime.from, programme.zone);
  turn.post(person.id, due.what, { at, caseId: due.caseId, name: due.name });
  return true;
}
