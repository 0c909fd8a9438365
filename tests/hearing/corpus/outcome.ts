/** What came of a text, as far as the corpus judges it. */
import type { CaseEvent } from '../../../src/case/events.ts';
import type { Said, StepResult } from '../../../src/conversation/effect.ts';
import { heardAt, type Place } from './places.ts';
import type { CorpusText, Outcome } from './table.ts';

/** Of an alarm or a question to the doctor, and not of an answer. */
const beside = new Set<CaseEvent['type']>(['sos-raised', 'doctor-asked', 'noted']);

/** Texts to the person who wrote. */
export const repliesOf = (place: Place, result: StepResult): readonly Said[] =>
  result.says.filter((one) => one.personId === place.person.id);

/** What was recorded as an answer or an act, of any case. */
export const recordedOf = (result: StepResult): readonly CaseEvent[] =>
  result.cases.flatMap((one) => one.records.map((record) => record.event)).filter((one) => !beside.has(one.type));

/** First aid was said, or an alarm went on to the doctors. */
export const gotFirstAid = (place: Place, result: StepResult): boolean =>
  repliesOf(place, result).some((one) => one.lane === 'sos' && /FAINT/.test(one.text));

const raised = (result: StepResult): boolean => result.questions.some((one) => one.isNew && one.value.about === 'sos');

const asksDoctor = (result: StepResult): boolean => result.questions.some((one) => one.value.about !== 'sos');

const hasTrouble = (said: Said): boolean => said.step === 'unreadable';

/** Every string, number and yes or no that was newly put down: by an answer, or by a doctor. */
function newValues(place: Place, result: StepResult): ReadonlySet<string> {
  const before = new Map(place.world.cases.map((one) => [one.id, one.answers as Readonly<Record<string, unknown>>]));
  const values = new Set<string>();
  for (const { value, records } of result.cases) {
    const had = before.get(value.id) ?? {};
    for (const { event } of records) {
      if (beside.has(event.type)) continue;
      if (event.type !== 'answered') {
        collect(event, values);
        continue;
      }
      const old = had[event.item === null ? event.field : `${event.item}.${event.field}`];
      const known = new Set<string>();
      collect(old, known);
      const now = new Set<string>();
      collect(event.value, now);
      for (const one of now) if (!known.has(one) || !Array.isArray(event.value)) values.add(one);
      if (Array.isArray(event.value) && event.value.length === 0) values.add('none');
    }
  }
  for (const { value } of result.questions) if (value.answer !== null) values.add(value.answer);
  return values;
}

function collect(value: unknown, into: Set<string>): void {
  if (Array.isArray(value)) for (const one of value) collect(one, into);
  else if (typeof value === 'object' && value !== null) for (const one of Object.values(value)) collect(one, into);
  else if (value !== undefined && value !== null) into.add(String(value));
}

/** Why what came of the text is not what the table says; null: it is. */
export function missed(place: Place, text: CorpusText): string | null {
  const result = heardAt(place, text.text);
  const { is } = text;
  const got = `recorded ${JSON.stringify(recordedOf(result))}, said ${repliesOf(place, result)
    .map((one) => one.text)
    .join(' | ')}`;
  return isMet(place, result, is) ? null : got;
}

/** True: nothing was put down, no alarm was raised, and something came back that says so. */
export function isAskedBack(place: Place, text: CorpusText): boolean {
  const result = heardAt(place, text.text);
  return repliesOf(place, result).length > 0 && recordedOf(result).length === 0 && !raised(result);
}

function isMet(place: Place, result: StepResult, is: Outcome): boolean {
  const replies = repliesOf(place, result);
  if (replies.length === 0) return false;
  switch (is.kind) {
    case 'heard-as': {
      if (replies.some(hasTrouble)) return false;
      const values = newValues(place, result);
      const others = (place.world.conversation.threads.at(-1)?.ask?.options ?? [])
        .map((one) => one.id)
        .filter((id) => !is.ids.includes(id) && id !== 'unknown' && id !== 'none');
      const went = is.ids.every((id) => values.has(id));
      return went ? !others.some((id) => values.has(id)) : hasGone(place, result, is.ids);
    }
    case 'asked-back':
      return recordedOf(result).length === 0 && !raised(result) && isAskedAgain(place, result);
    case 'nothing recorded':
      return recordedOf(result).length === 0 && !raised(result);
    case 'first-aid':
      return gotFirstAid(place, result);
    case 'alarm':
      return gotFirstAid(place, result) && (raised(result) || isInAlarm(place));
    case 'doctor':
      return asksDoctor(result);
    case 'command':
    case 'exit': {
      const plain = heardAt(place, is.word);
      const same = (one: StepResult): string => JSON.stringify(repliesOf(place, one).map((said) => said.text));
      return !repliesOf(place, plain).some(hasTrouble) && same(plain) === same(result);
    }
  }
}

/** An answer that is stored nowhere is the same as its digits would have been: what is said next tells. */
function hasGone(place: Place, result: StepResult, ids: readonly string[]): boolean {
  const options = place.world.conversation.threads.at(-1)?.ask?.options ?? [];
  const replies = ids.map((id) => options.find((one) => one.id === id)?.reply);
  if (replies.includes(undefined)) return false;
  const typed = heardAt(place, replies.join(' '));
  const said = (one: StepResult): string => JSON.stringify(repliesOf(place, one).map(({ text }) => text));
  return !repliesOf(place, typed).some(hasTrouble) && said(typed) === said(result);
}

const isInAlarm = (place: Place): boolean =>
  place.world.questions.some((one) => one.about === 'sos' && one.answeredAt === null) || /^sos\./.test(place.name);

/** The question is open still, or the text says what to send. */
function isAskedAgain(place: Place, result: StepResult): boolean {
  const open = place.world.conversation.threads.at(-1)?.ask;
  const after = result.state?.threads.at(-1)?.ask;
  return open == null || after?.field === open.field;
}
