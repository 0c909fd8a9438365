/** A doctor who wants to be called: the clinic hears by what number, or who connects them. */

import { canBeDialled, shownNumber } from './channel-facts.ts';
import type { QuestionAbout } from './flow.ts';
import { personById, withRole } from './people.ts';
import { siteOf } from './programme.ts';
import type { Question } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** Questions at which the doctor phones the clinic; at all others `call-me` asks the clinic to phone. */
export const doctorPhones: ReadonlySet<QuestionAbout> = new Set<QuestionAbout>([
  ...(['emergency', 'sos', 'no-aftercare-answer', 'left-unwatched', 'patient-left', 'parcel-lost'] as const),
  ...(['decision', 'decision-cyst', 'decision-stopped'] as const),
  ...(['urgent-decision', 'urgent-decision-cyst', 'urgent-decision-stopped'] as const),
]);

/** The number under which somebody can be called, or null: Telegram gives none. */
function numberOf(person: Person | null): string | null {
  const address = person?.addresses.find((one) => canBeDialled(one.channel));
  return address ? shownNumber(address) : null;
}

/**
 * What stands behind the words of a doctor who wants a call: the doctor's number, else a coordinator's, else who phones the
 * clinic, who is told so. '' where the doctor phones, and for a reader of another site than the question's: numbers are
 * private.
 */
export function callBackText(turn: Turn, reader: Person, question: Question | null, by: string): string {
  if (question === null || doctorPhones.has(question.about)) return '';
  const of = turn.caseOf(question.caseId);
  const isTheirs = question.askedBy === reader.id || of?.siteId === reader.siteId;
  if (!isTheirs) return '';
  const doctor = personById(turn.world, by);
  const say = (
    key: 'call-number' | 'call-through' | 'call-comes' | 'call-voice',
    values: Readonly<Record<string, string>>,
  ) => turn.world.texts.render(reader.locale, `common.${key}`, (name) => values[name] ?? '');
  const own = numberOf(doctor);
  if (own !== null) return say('call-number', { number: own });
  const coordinators = withRole(turn.world, 'coordinator').filter((one) => one.id !== reader.id && one.id !== by);
  const between = coordinators.find((one) => numberOf(one) !== null);
  if (between) return say('call-through', { who: between.name, number: numberOf(between)! });
  const [first] = coordinators;
  if (!first) return say('call-voice', { number: siteOf(turn.world.programme, reader.siteId).voiceNumber });
  const vars = { who: doctor?.name ?? '', about: question.about, askedBy: question.askedBy };
  turn.notify('coordinators', 'common.call-wanted', 'notice', question.caseId, question.item, vars);
  return say('call-comes', { who: first.name });
}
