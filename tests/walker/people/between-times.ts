/** What happens while nobody is asked: the patient leaves, refuses or was seen; another of the site goes on; a case is over. */
import type { Case } from '../../../src/case/case.ts';
import { exitWords } from '../../../src/conversation/exits.ts';
import type { Person } from '../../../src/conversation/world.ts';
import type { Chance } from '../../simulation/chance.ts';
import type { Town } from '../town.ts';
import type { Recorded } from '../transcript.ts';
import type { Habits } from './habits.ts';

/** Days that a conversation waits for, by the field of their answer. */
const waitsFor: ReadonlySet<string> = new Set(['sampling-day', 'appointment', 'referral-day', 'repeat-day']);

const dayMinutes = 24 * 60;

/** A while after a day was agreed, or a doctor was asked, the worker says in a word what became of it, or calls for help. */
export function saysBetween(town: Town, { record, caseId, after }: Recorded, habits: Habits): void {
  const { event } = record;
  const { chance } = town;
  const waits = (event.type === 'answered' && waitsFor.has(event.field)) || event.type === 'doctor-asked';
  if (!waits || !chance.happens(habits.wordsBetween)) return;
  const word = chance.pick(['SEEN', 'SEEN', 'SEEN', ...Object.values(exitWords), 'SOS', 'SOS']);
  town.plan(after.ownerId, minutesOfWaiting(chance), () => spoken(town.cases.get(caseId)!, word));
}

/** Before the day somebody else of the site takes the case, and the patient sits there. */
export function goesOnElsewhere(town: Town, recorded: Recorded, colleagues: readonly Person[], habits: Habits): void {
  const { record, caseId, after } = recorded;
  const { event } = record;
  const { chance } = town;
  if (event.type !== 'answered' || event.field !== 'sampling-day' || !chance.happens(habits.goesOn)) return;
  const others = colleagues.filter((one) => one.siteId === after.siteId && one.id !== after.ownerId);
  if (others.length === 0) return;
  town.plan(chance.pick(others).id, minutesOfWaiting(chance), () => spoken(town.cases.get(caseId)!, 'TAKE'));
}

const minutesOfWaiting = (chance: Chance): number => chance.minutes(5, chance.happens(0.5) ? 120 : 2 * dayMinutes);

function spoken(of: Case, word: string): { text: string; caseId: string; slip: 'word' | 'alarm' } | null {
  if (of.status === 'closed') return null;
  if (word === 'SOS') return { text: `SOS ${of.tag}`, caseId: of.id, slip: 'alarm' };
  const code = of.specimens[0]?.code;
  if (word === 'TAKE' && code === undefined) return null;
  return { text: word === 'TAKE' ? `TAKE ${code}` : `${of.tag} ${word}`, caseId: of.id, slip: 'word' };
}
