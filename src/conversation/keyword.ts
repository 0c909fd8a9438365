/** Where people are told of the word in front of every text, where several services share the line's number. */
import type { TextKey } from '../generated/text-keys.ts';
import type { Said } from './effect.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** What somebody reads before their first text to the line, and what they get when they ask what to send. */
const firstTexts: ReadonlySet<TextKey> = new Set([
  'join.number',
  'join.welcome',
  'people.welcome-worker',
  'people.welcome-doctor',
  'people.welcome-lab',
  'people.welcome-coordinator',
  'people.welcome-late',
  'desk.help-here',
  'desk.help-open',
  'desk.help-worker',
  'desk.help-doctor',
  'desk.help-lab',
  'desk.help-coordinator',
]);

/** Says the word in front of every text behind one of these, where it went by SMS. Gives back what was said before it. */
export function withKeyword(turn: Turn, person: Person, key: TextKey, said: Said | null): Said | null {
  const isNamed = turn.world.programme.keyword !== undefined && said?.to.channel === 'sms' && firstTexts.has(key);
  if (isNamed) turn.say(person, 'common.keyword', { frame: null, caseId: said.caseId });
  return said;
}
