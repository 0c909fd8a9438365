/** What must hold of every text at every question: an answer that names its matter, and nothing put down that was not said. */
import type { Case } from '../../../src/case/case.ts';
import type { StepResult } from '../../../src/conversation/effect.ts';
import type { Thread } from '../../../src/conversation/state.ts';
import { exitIn, mayFollow } from './exits.ts';
import { givenOptions, mayAnswer } from './given.ts';
import { recordedOf, repliesOf } from './outcome.ts';
import type { Place } from './places.ts';

/** What is wrong with what came of this text here; null: nothing. */
export function wrongWith(place: Place, text: string, result: StepResult): string | null {
  return silence(place, text, result) ?? otherPatient(place, text, result) ?? notGiven(place, text, result);
}

/** The matter that the text is about: of the patient whose tag stands in front, else the one that asks. */
function matterOf(place: Place, text: string): Thread | null {
  const open = place.world.conversation.threads.filter((one) => one.ask !== null);
  const first = /^\s*([\p{L}\d]+)\W+\S/u.exec(text)?.[1]?.toUpperCase();
  const named = open.filter((one) => caseOf(place, one.caseId)?.tag === first);
  // Of several questions about that patient the one that it answers.
  return named.findLast((one) => mayAnswer(one.ask!, text)) ?? named.at(-1) ?? open.at(-1) ?? null;
}

const caseOf = (place: Place, id: string | null): Case | null => place.world.cases.find((one) => one.id === id) ?? null;

function silence(place: Place, text: string, result: StepResult): string | null {
  const replies = repliesOf(place, result).filter((one) => one.text.trim() !== '');
  if (replies.length === 0) return 'nothing came back';
  const asked = caseOf(place, matterOf(place, text)?.caseId ?? null);
  if (!asked || asked.tag === '') return null;
  const tags = place.world.cases.map((one) => one.tag);
  const names = replies.some(
    (one) => one.ask !== null || tags.some((tag) => one.text.includes(tag)) || /\b\d{4} \d{4}\b/.test(one.text),
  );
  return names ? null : `names nobody: ${replies.map((one) => one.text).join(' | ')}`;
}

function otherPatient(place: Place, text: string, result: StepResult): string | null {
  const matter = matterOf(place, text);
  if (place.person.roles[0] === 'doctor') return null;
  for (const { value, isNew, records } of result.cases) {
    if (isNew || value.id === matter?.caseId || records.length === 0) continue;
    if (text.toUpperCase().includes(value.tag)) continue;
    // Words of danger about a second patient stand beside the alarm that is open, and whoever wrote reads so.
    const tag = /^\s*([\p{L}\d]+)\W+\S/u.exec(text)?.[1] ?? '';
    const isTold = repliesOf(place, result).some((one) => one.text.includes(`words about ${tag} now`));
    if (isTold && records.every(({ event }) => event.type === 'noted')) continue;
    const events = records.map((one) => one.event);
    // An alarm beside somebody who has no name yet is about the patient whose needle was out last.
    if (matter?.caseId == null && events.some((one) => one.type === 'sos-raised')) continue;
    // A number that is the needle's own is hers, whoever is asked about.
    const theirs = place.world.conversation.threads.find((one) => one.caseId === value.id)?.ask;
    if (theirs && /^\s*\d{2}\b/.test(text) && givenOptions(theirs, text).size > 0) continue;
    return `changed ${value.tag}: ${JSON.stringify(events)}`;
  }
  return null;
}

/** An option that was put down stands in the text, by its digit or by a word. */
function notGiven(place: Place, text: string, result: StepResult): string | null {
  const matter = matterOf(place, text);
  const ask = matter?.ask;
  const exit = exitIn(text);
  // What is of somebody else was judged before.
  const own = { ...result, cases: result.cases.filter((one) => one.isNew || one.value.id === matter?.caseId) };
  const events = recordedOf(own).filter(
    (one) =>
      !(one.type === 'frozen' && /^\W*wrong\b/i.test(text)) &&
      // A result with its code is a result, whatever the laboratory is asked.
      !(one.type === 'read-back' && /^\d{8}\b/.test(text)) &&
      !(exit !== null && mayFollow[exit].some((is) => is(one))),
  );
  if (!ask || events.length === 0 || place.person.roles[0] === 'doctor') return null;
  const isNew = result.cases.some((one) => one.isNew);
  if (!mayAnswer(ask, text) && !isNew && !answersNext(place, text)) return `put down ${JSON.stringify(events)}`;
  const given = givenOptions(ask, text);
  const known = JSON.stringify(place.world.cases.map((one) => one.answers));
  for (const event of events) {
    if (event.type !== 'answered' || event.field !== ask.field || event.item !== ask.item) continue;
    const values: readonly unknown[] = Array.isArray(event.value) ? event.value : [event.value];
    const strange = values.find(
      (one) =>
        typeof one === 'string' &&
        one !== 'unknown' &&
        ask.options.some((option) => option.id === one) &&
        !given.has(one) &&
        !known.includes(`"${one}"`),
    );
    if (strange !== undefined) return `put down ${String(strange)} by itself`;
  }
  return null;
}

/** What to sample with and what to fix with may be answered in one text. */
const answersNext = (place: Place, text: string): boolean => place.name === 'ready.supplies' && /[78ght]/i.test(text);
