/** The interview on a terminal: one question at a time, `?` explains, `<` goes back, and what was said is kept. */
import type { Question } from '../setup/question.ts';
import { type Place, type Said, walk } from '../setup/talk.ts';

/** A terminal, or what stands for it: lines as they are typed, null at the end of them. */
export interface Terminal {
  say(text: string): void;
  line(): Promise<string | null>;
}

/** What an interview begins with and leaves. */
export interface TalkParts<T> {
  readonly terminal: Terminal;
  readonly begin: () => Generator<Question, T, unknown>;
  /** Said in this round already. */
  readonly said: readonly Said[];
  /** Said in an earlier round, by question: what an empty line takes. */
  readonly earlier: ReadonlyMap<string, string>;
  /** Keeps what was said; called after each answer. */
  keep(said: readonly Said[]): void;
}

/** Asks until all is said. Null = the lines ended before; what was said is kept. */
export async function talk<T>(parts: TalkParts<T>): Promise<Place<T> | null> {
  const { terminal } = parts;
  /** Offered again, also what was taken back in this round. */
  const earlier = new Map(parts.earlier);
  let place = walk(parts.begin, parts.said);
  while (place.question) {
    const usual = usualOf(place.question, earlier);
    terminal.say(promptOf(place.question, usual));
    const typed = (await terminal.line())?.trim();
    if (typed === undefined) return null;
    if (typed === '?') {
      terminal.say(`${explained(place.question)}\n`);
      continue;
    }
    let said = place.said;
    if (typed === '<') {
      const last = said.at(-1);
      if (last) earlier.set(last.id, last.text);
      else terminal.say('This is the first question.\n');
      said = said.slice(0, -1);
    } else {
      const text = typed === '' ? usual : typed;
      const read = text === null ? null : place.question.read(text);
      if (text === null || !read?.ok) {
        terminal.say(`Expected ${read && !read.ok ? read.expected : 'an answer'}. ? explains.\n`);
        continue;
      }
      said = [...said, { id: place.question.id, text }];
    }
    place = walk(parts.begin, said);
    parts.keep(place.said);
  }
  return place;
}

function usualOf(question: Question, earlier: ReadonlyMap<string, string>): string | null {
  const text = earlier.get(question.id);
  // Somebody may have gone back and said something else before it.
  return text !== undefined && question.read(text).ok ? text : question.usual;
}

function promptOf({ words, example }: Question, usual: string | null): string {
  if (usual !== null && usual !== '') return `${words} [${usual}] `;
  return example === '' ? `${words} ` : `${words} (e.g. ${example}) `;
}

function explained({ explain, example }: Question): string {
  return example === '' ? explain : `${explain} Example: ${example}`;
}
