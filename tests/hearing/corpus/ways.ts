/** How every question is reached: by plays, each driven once as far as the last question that it is wanted for. */
import { existsSync, readFileSync } from 'node:fs';
import { freshState } from '../../../src/conversation/state.ts';
import { person } from '../../support/world.ts';
import { type Place, placesOf } from './places.ts';
import { secondTag } from './second-patient.ts';

/** A script by its path below `tests`. */
export const fileOf = (script: string): string => new URL(`../../${script}`, import.meta.url).pathname;

/** Questions that no play asks, each with the reason; a play that asks one takes it off this list. */
export const neverAsked: Readonly<Record<string, string>> = {
  'new.family-and-pet': 'only where the programme asks about PET',
  'new.pregnant-weeks': 'the weeks are said beside the name in every play',
  'labelling.whose': 'only where names are kept in the chat',
  'decision.optional': 'every optional needle of a play is one in pregnancy',
  'decision.allowed-urgent': 'no doctor of a play allows a needle beside an urgent referral',
  'action.node-benign': 'no play ends with a settled node',
  'node-look.tube': 'no laboratory of a play wants a rinse',
  'sampling.alarm-called': 'no doctor of a play calls after an alarm between two lumps',
  'sos.left': 'no play leaves the line with an alarm open',
};

/** Script by script, the questions that it is driven for. */
export function waysOf(): Readonly<Record<string, readonly string[]>> {
  const file = new URL('./ways.json', import.meta.url);
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : {};
}

/** Every question with a way, open, and people with nothing open; and a second patient with the needle in. */
export async function allPlaces(): Promise<{ readonly places: readonly Place[]; readonly second: Place }> {
  const second = (await placesOf(fileOf('hearing/corpus/ways/second-patient.play'), new Set(['sampling.report'])))
    .values()
    .next().value!;
  if (second.world.cases[0]?.tag !== secondTag) throw new Error('the second patient is not there');
  const places: Place[] = [];
  for (const [script, names] of Object.entries(waysOf())) {
    places.push(...(await placesOf(fileOf(script), new Set(names))).values());
  }
  const roles = ['worker', 'doctor', 'lab', 'coordinator'] as const;
  return { places: [...places, ...roles.map((role) => idle(second, role))], second };
}

/** Somebody for whom nothing is open. */
function idle(like: Place, role: 'worker' | 'doctor' | 'lab' | 'coordinator'): Place {
  const who = person(`idle-${role}`, role);
  const world = { ...like.world, person: who, conversation: freshState, cases: [], briefs: [], questions: [] };
  return {
    name: `nothing-open.${role}`,
    person: who,
    at: like.at,
    shown: '',
    world: { ...world, roster: [...like.world.roster, who] },
  };
}
