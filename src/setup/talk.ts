/** Where an interview is: what was said leads to the next question, so that going back and going on later are the same. */
import type { Question } from './question.ts';

/** One answer as it was typed. */
export interface Said {
  readonly id: string;
  readonly text: string;
}

export interface Place<T> {
  /** Null = everything was asked. */
  readonly question: Question | null;
  /** Only once everything was asked. */
  readonly result: T | null;
  /** What of the answers fits the questions of this version, in order. */
  readonly said: readonly Said[];
}

/** Walks the interview with what was said. The first answer that no longer fits ends it: its question is asked. */
export function walk<T>(begin: () => Generator<Question, T, unknown>, said: readonly Said[]): Place<T> {
  const talk = begin();
  const fits: Said[] = [];
  let step = talk.next();
  for (const { id, text } of said) {
    if (step.done || step.value.id !== id) break;
    const read = step.value.read(text);
    if (!read.ok) break;
    fits.push({ id, text });
    step = talk.next(read.value);
  }
  return step.done
    ? { question: null, result: step.value, said: fits }
    : { question: step.value, result: null, said: fits };
}

/** What was said before the question that a fault belongs to; all of it where none does. */
export function saidBefore(said: readonly Said[], path: string): readonly Said[] {
  const within = (id: string): boolean => id === path || id.startsWith(`${path}.`) || path.startsWith(`${id}.`);
  const at = said.findIndex(({ id }) => within(id));
  return at < 0 ? said : said.slice(0, at);
}
