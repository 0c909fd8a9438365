/** PEOPLE: who is on the line, with number and state, a few a screen. */
import type { KeyIn } from '../../generated/text-keys.ts';
import { foldWord } from '../../text/fold.ts';
import type { Interpreter } from '../interpret.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';

/** People on one screen. */
const perScreen = 5;

/** `PEOPLE`, or with a site, role, name or state, as the reader's language or English has it: `PEOPLE kesu`, `PEOPLE doctor`. */
export function showPeople(turn: Turn, interpreter: Interpreter, filter: string, page: number): void {
  const reader = interpreter.person;
  const wanted = foldWord(filter);
  const lines = [...turn.world.roster]
    .sort((a, b) => a.siteId.localeCompare(b.siteId) || a.name.localeCompare(b.name) || (a.id < b.id ? -1 : 1))
    .filter((one) => [reader.locale, 'en'].some((locale) => foldWord(lineOf(turn, locale, one)).includes(wanted)))
    .map((one) => lineOf(turn, reader.locale, one));
  const from = page * perScreen;
  const left = Math.max(0, lines.length - from - perScreen);
  turn.disturbed = true;
  if (lines.length === 0) {
    turn.say(reader, 'staff.who', { frame: null, caseId: null });
    return;
  }
  const vars = { lines: lines.slice(from, from + perScreen).join('\n'), count: String(left) };
  turn.say(reader, left > 0 ? 'staff.people-more' : 'staff.people', { frame: null, caseId: null, vars });
  turn.state = { ...turn.state, more: left > 0 ? { key: `people:${wanted}`, page: page + 1, caseId: null } : null };
}

function lineOf(turn: Turn, locale: string, one: Person): string {
  const word = (key: KeyIn<'staff'>): string => turn.world.texts.render(locale, `staff.${key}`, () => '');
  const roles = one.roles.map((role) => word(`role-${role}`)).join('+');
  const state = one.state === 'joined' && !one.practised ? 'unpractised' : one.state;
  const shared = one.shared ? `, ${word('is-shared')}` : '';
  return `${one.name}, ${roles}, ${one.siteId}, ${one.addresses[0]?.address ?? '-'}: ${word(`is-${state}`)}${shared}`;
}
