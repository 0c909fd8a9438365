/** Doctors on and off duty: `OFF`, `OFF 8 MAR`, `OFF 18:00`, `ON`, `DUTY 8-17`. Who is off is asked last, never not at all. */

import { firstWord } from '../../text/first-word.ts';
import { foldWord } from '../../text/fold.ts';
import { whenWords } from '../answer-question.ts';
import { readDate } from '../answers/date.ts';
import type { Interpreter } from '../interpret.ts';
import type { Matter } from '../moment.ts';
import { release } from '../pass-on.ts';
import { ladder, onDuty } from '../people.ts';
import { siteOf } from '../programme.ts';
import { addDays, instantOf, localTime } from '../schedule.ts';
import { idleFrame } from '../state.ts';
import type { Turn } from '../turn.ts';
import type { Person } from '../world.ts';
import { dateRule } from './days.ts';

/** Off without a day: until ON. Far beyond any calendar (the year 9999), ms. */
const untilOn = 253_370_764_800_000;

/** One of the small words around hours, as this person's language has them. */
function means(turn: Turn, person: Person, word: 'until' | 'to' | 'all', said: string): boolean {
  return turn.world.texts.words(person.locale, 'duty-words', word).includes(foldWord(said));
}

/** When `OFF` ends: a time of day (its next coming), a day (its morning), nothing (until ON); null = unreadable. */
function readUntil(turn: Turn, person: Person, said: string): number | null {
  const [first = '', ...more] = said.trim().split(/\s+/);
  const words = more.length > 0 && means(turn, person, 'until', first) ? more.join(' ') : said.trim();
  if (words === '') return untilOn;
  const { zone } = siteOf(turn.world.programme, person.siteId);
  const clock = /^(\d{1,2})(?:[:.h](\d{2})?)?\s*h?$/i.exec(words);
  if (clock) {
    const hour = Number(clock[1]);
    const minute = Number(clock[2] ?? 0);
    if (hour > 24 || minute > 59) return null;
    const today = instantOf(localTime(turn.now, zone), hour, zone) + minute * 60_000;
    return today > turn.now ? today : instantOf(addDays(localTime(turn.now, zone), 1), hour, zone) + minute * 60_000;
  }
  const day = readDate(words, dateRule(turn.moment(idleFrame, null, person)));
  if (!day.ok) return null;
  return Math.max(turn.now, instantOf(day.value, turn.world.programme.daytime.from, zone));
}

/** Off duty: what waits for this doctor goes to the next one at once, promises too. */
function off(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  const until = readUntil(turn, person, rest);
  if (until === null) {
    turn.say(person, 'hours.how', { frame: null, caseId: null });
    return;
  }
  const others = ladder(turn.world, turn.now).filter((one) => one.id !== person.id);
  turn.changePeople({ kind: 'put-person', person: { ...person, offUntil: until } });
  const waiting = turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
  const mine = waiting.filter((one) => one.answeredBy === person.id || one.answeredBy === null);
  const moved = mine.filter((one) => others.some((other) => !one.askedOf.includes(other.id)));
  for (const question of moved) release(turn, question, person.id);
  const here = others.find((one) => onDuty(turn.world, one, turn.now)) ?? null;
  const key = here ? (until === untilOn ? 'hours.off' : 'hours.off-until') : 'hours.nobody-left';
  const vars = { when: until === untilOn ? '' : whenWords(turn, person, until), count: String(moved.length) };
  turn.say(person, key, { frame: null, caseId: null, vars: { ...vars, who: here?.name ?? '' } });
  if (!here) turn.notify('coordinators', 'hours.no-doctor', 'notice', null, null, { who: person.name });
}

/** On duty again: asked first as before; what still waits is shown by LIST. */
function on(turn: Turn, interpreter: Interpreter, rest: string): void {
  if (rest.trim() !== '') {
    turn.say(interpreter.person, 'hours.how', { frame: null, caseId: null });
    return;
  }
  const { offUntil: _until, ...person } = interpreter.person;
  turn.changePeople({ kind: 'put-person', person });
  const waiting = turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
  turn.say(person, 'hours.on', { frame: null, caseId: null, vars: { count: String(waiting.length) } });
}

/** `DUTY 8-17`: the hours of every day; `DUTY ALL`: all day; alone it says how it stands. */
function duty(turn: Turn, interpreter: Interpreter, rest: string): void {
  const { person } = interpreter;
  const hours = /^(\d{1,2})(?:[:.]00)?(?:\s*-\s*|\s+|\s*([\p{L}\p{M}]+)\s*)(\d{1,2})(?:[:.]00)?$/u.exec(rest.trim());
  const joined = hours?.[2] === undefined || means(turn, person, 'to', hours[2]);
  const from = Number(hours?.[1]);
  const to = Number(hours?.[3]) % 24;
  if (hours && joined && from < 24 && Number(hours[3]) <= 24 && from !== to) {
    turn.changePeople({ kind: 'put-person', person: { ...person, dutyHours: { from, to } } });
  } else if (means(turn, person, 'all', firstWord(rest))) {
    const { dutyHours: _hours, ...always } = person;
    turn.changePeople({ kind: 'put-person', person: always });
  } else if (rest.trim() !== '') {
    turn.say(person, 'hours.how', { frame: null, caseId: null });
    return;
  }
  const now = turn.person ?? person;
  const vars = now.dutyHours ? { from: String(now.dutyHours.from), to: String(now.dutyHours.to) } : {};
  turn.say(person, now.dutyHours ? 'hours.hours' : 'hours.all-day', { frame: null, caseId: null, vars });
}

export const dutyHours: Matter = {
  commands: {
    OFF: { roles: ['doctor'], everyday: true, run: off },
    ON: { roles: ['doctor'], everyday: true, run: on },
    DUTY: { roles: ['doctor'], everyday: true, run: duty },
  },
};
