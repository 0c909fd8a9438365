/** The first text to somebody whom a roster file brought on the line: once, and by day. */
import { channelFacts } from './channel-facts.ts';
import type { Due } from './event.ts';
import { type Programme, siteOf } from './programme.ts';
import { inDaytime } from './schedule.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/**
 * The row that welcomes a person; null where the line may not write first. Its id is theirs, so that however often it is
 * stored or tried there is one welcome.
 */
export function welcomeDue(programme: Programme, person: Person, now: number): Due | null {
  const first = person.addresses[0];
  if (!first || !channelFacts(first.channel).writesFirst) return null;
  return {
    id: `welcome:${person.id}`,
    programmeId: programme.id,
    personId: person.id,
    caseId: null,
    name: 'welcome',
    frameId: null,
    dueAt: byDay(programme, person, now),
    what: { kind: 'welcome' },
  };
}

/** Says it, or waits for the day: a line that was away may come back at night. */
export function sayWelcome(turn: Turn, person: Person): void {
  const at = byDay(turn.world.programme, person, turn.now);
  if (at > turn.now) {
    turn.post(person.id, { kind: 'welcome' }, { at });
    return;
  }
  const role = person.roles[0] ?? 'worker';
  // Whoever has written before was welcomed by the practice question: of it all they only lack who pays.
  const key = turn.state.lastInAt > 0 || person.practised ? 'people.welcome-late' : (`people.welcome-${role}` as const);
  turn.say(person, key, { frame: null, caseId: null, lane: 'notice' });
  turn.disturbed = true;
}

function byDay(programme: Programme, person: Person, now: number): number {
  return inDaytime(now, siteOf(programme, person.siteId).zone, programme.daytime);
}
