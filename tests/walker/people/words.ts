/** Words that a worker sends though no question asks for them. */
import type { Chance } from '../../simulation/chance.ts';
import type { Spoken } from '../town.ts';

const hourMs = 3_600_000;

/** Instead of an answer: what is asked, what is open, a trade word, other texts, sentences for the patient. */
const beside = ['LIST', '?', 'HELP', 'W', 'W needle', 'W biopsy', 'SAY', 'BRIEF', 'BRIEF', 'PLAIN'] as const;

export const wordBeside = (chance: Chance): string => chance.pick(beside);

/** Unasked, in the middle of something; null: nothing. `cries`: weight of SOS. */
export function unasked(chance: Chance, cries: number): Spoken | null {
  const alarms = { SOS: cries, 'SOS of before': cries / 2, 'bleeding a little': 2 };
  const doctor = { 'DOCTOR may I go on like this?': 4, DOCTOR: 2 };
  const word = chance.weighted({
    ...alarms,
    ...doctor,
    LIST: 2,
    BRIEF: 4,
    PLAIN: 1,
    SAY: 2,
    'W aspirate': 2,
    none: 46,
  });
  if (word === 'none') return null;
  // The network kept it for hours.
  const isOld = word === 'SOS of before';
  return {
    text: isOld ? 'SOS' : word,
    slip: word in alarms ? 'alarm' : 'word',
    lateMs: isOld ? 2 * hourMs : 0,
  };
}
