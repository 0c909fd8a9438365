/** Words of an alarm that is over: the line taught them, so that they are heard for as long as the patient may be near. */
import { saidOfPatient, tagOf, withoutTag } from './answer-alarm.ts';
import { hearsCries } from './hearing/patient-near.ts';
import { openAlarms } from './open-alarm.ts';
import { durationOf } from './programme.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/**
 * What a text says of a patient whose alarm is over: `worse` is an alarm anew, `maybe` gets first aid, `no-more` changes
 * nothing. `about`: that patient; null where no alarm was.
 */
export interface AlarmAgain {
  readonly says: 'worse' | 'maybe' | 'no-more';
  readonly about: Thread | null;
}

/** Null where the text says nothing of it. */
export function alarmAgain(turn: Turn, person: Person, text: string): AlarmAgain | null {
  if (!hearsCries(turn, person)) return null;
  const over = alarmsOver(turn);
  const { tag, rest } = withoutTag(turn, over, text);
  const said = saidOfPatient(turn, person, rest);
  if (over.length === 0) return said?.answer === 'worse' && said.alone ? { says: 'maybe', about: null } : null;
  if (said === null || said.answer === 'fine' || said.answer === 'gone') return null;
  const about = over.findLast((one) => tagOf(turn, one) === tag) ?? over.at(-1)!;
  if (said.answer === 'worse') return { says: said.alone ? 'worse' : 'maybe', about };
  return { says: said.answer === 'cannot' ? 'maybe' : 'no-more', about };
}

/**
 * While another's alarm is open: the patient whose tag stands in front of words that say worse, `AK WORSE`. Null where they
 * are of the open alarm. A tag that is a word of every text, `HE WORSE`, says nothing.
 */
export function worseBeside(turn: Turn, person: Person, text: string): Thread | null {
  const open = openAlarms(turn);
  if (open.length === 0) return null;
  const others = turn.threads.filter((one) => one.caseId !== null && open.every((two) => two.caseId !== one.caseId));
  const { tag, rest } = withoutTag(turn, others, text);
  if (tag === null || open.some((one) => tagOf(turn, one) === tag)) return null;
  if (turn.world.texts.alarmWords(person.locale).some(({ fillers }) => fillers.includes(tag))) return null;
  if (saidOfPatient(turn, person, rest)?.answer !== 'worse') return null;
  return others.findLast((one) => tagOf(turn, one) === tag) ?? null;
}

/** Threads of patients who had an alarm so lately that they may still be near. */
function alarmsOver(turn: Turn): readonly Thread[] {
  const since = turn.now - durationOf(turn.world.programme, 'going-home-words');
  return turn.threads.filter((one) => {
    const of = turn.caseOf(one.caseId);
    return of !== null && !of.practice && of.sos === null && (of.alarmAt ?? 0) > since;
  });
}
