/** Asks the senders of texts that never reached the line to send them again, once for each text. */
import type { Content } from '../content/load.ts';
import type { Due, DueWhat } from '../conversation/event.ts';
import { siteOf } from '../conversation/programme.ts';
import type { Person } from '../conversation/world.ts';
import { nothingChanged } from '../line/change.ts';
import type { LineStore } from '../store/store.ts';
import { clockWords, dayWordsAt } from '../text/time-words.ts';
import type { MissingText } from './comparison.ts';

export interface Asked {
  readonly people: number;
  readonly texts: number;
  /** Texts whose senders were asked by an earlier run. */
  readonly before: number;
}

/**
 * Puts one row for each sender who is on the line, and one for the coordinators, all together or not at all: the running
 * line says it within a second, another one at its start. `other-run`: another command asked for the same meanwhile.
 */
export async function askAgain(
  store: LineStore,
  content: Content,
  missing: readonly MissingText[],
  now: number,
): Promise<Asked | 'other-run'> {
  const { programme } = content;
  const reached = missing.filter((one) => one.standing === 'on the line');
  const keys = reached.map(({ text }) => `asked-again:${text.key}`);
  const before = await store.wereTaken(programme.id, keys);
  const open = reached.filter((_, index) => !before[index]);
  const ofPeople = new Map<Person, number[]>();
  for (const { text, person } of open) {
    if (person) ofPeople.set(person, [...(ofPeople.get(person) ?? []), text.at]);
  }
  const asked: Asked = { people: ofPeople.size, texts: open.length, before: reached.length - open.length };
  if (open.length === 0) return asked;
  // A key of the first text: the next run, with other texts, has another.
  const id = `asked-again:${now}:${open[0]!.text.key}`;
  const row = (name: string, personId: string | null, what: DueWhat): Due => ({
    id: `${id}:${name}`,
    programmeId: programme.id,
    personId,
    caseId: null,
    name: 'asked-again',
    frameId: null,
    dueAt: now,
    what,
  });
  const due = [...ofPeople].map(([person, times]) => {
    const when = whenWords(times, now, content, person);
    return row(person.id, person.id, {
      kind: 'tell',
      key: 'common.text-lost',
      caseId: null,
      item: null,
      vars: { when },
      lane: 'notice',
    });
  });
  const told = row('told', null, { kind: 'trouble', key: 'senders-asked', vars: { count: String(open.length) } });
  const change = { ...nothingChanged(id, programme.id, now), due: [...due, told] };
  const [outcome] = await store.commit([
    { ...change, keys: [id, ...open.map(({ text }) => `asked-again:${text.key}`)] },
  ]);
  if (outcome === 'duplicate') return 'other-run';
  if (outcome !== 'committed') throw new Error(`asking could not be stored: ${outcome}`);
  return asked;
}

/** `10:02`, or the first and the last of several; with the day when it is another one than today. */
function whenWords(times: readonly number[], now: number, content: Content, person: Person): string {
  const { zone } = siteOf(content.programme, person.siteId);
  const months = content.texts.months(person.locale);
  const today = dayWordsAt(now, zone, months);
  const words = (at: number): string => {
    const day = dayWordsAt(at, zone, months);
    return day === today ? clockWords(at, zone) : `${day} ${clockWords(at, zone)}`;
  };
  const ends = [Math.min(...times), Math.max(...times)].map(words);
  return [...new Set(ends)].join(' - ');
}
