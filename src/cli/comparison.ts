/** The gateway's log against the table of what the line took. */
import type { LoggedText } from '../channels/sms/access-log.ts';
import type { Person } from '../conversation/world.ts';
import type { LineStore } from '../store/store.ts';
import { linesOf } from './log-lines.ts';

export interface MissingText {
  readonly text: LoggedText;
  readonly person: Person | null;
  /** Where the sender stands: on the line, off it (stopped, suspended, not yet joined), or unknown. */
  readonly standing: 'on the line' | 'off the line' | 'not on the list';
}

export interface Comparison {
  /** Texts that the line took. */
  readonly taken: number;
  /** Never taken under this id, but under another: the network delivered it twice. */
  readonly again: number;
  readonly missing: readonly MissingText[];
}

/** Texts looked up in one go. */
const atOnce = 500;

/** The texts that came in at or after `since`, each id once. `found`: how many stand there at all. */
export async function readTexts(
  files: readonly string[],
  reader: (line: string) => LoggedText | null,
  since: number,
): Promise<{ readonly texts: readonly LoggedText[]; readonly lines: number; readonly found: number }> {
  const texts = new Map<string, LoggedText>();
  let lines = 0;
  let found = 0;
  for (const file of files) {
    for await (const line of linesOf(file)) {
      lines += 1;
      const text = line === null ? null : reader(line);
      if (!text) continue;
      found += 1;
      if (text.at >= since) texts.set(text.key, text);
    }
  }
  return { texts: [...texts.values()], lines, found };
}

/** What the line took, and what it did not. */
export async function compareWith(
  store: LineStore,
  programmeId: string,
  texts: readonly LoggedText[],
): Promise<Comparison> {
  const unknown: LoggedText[] = [];
  const twins = new Set<string>();
  for (let from = 0; from < texts.length; from += atOnce) {
    const some = texts.slice(from, from + atOnce);
    const taken = await store.wereTaken(
      programmeId,
      some.map((one) => one.key),
    );
    for (const [index, text] of some.entries()) {
      if (taken[index]) twins.add(text.twin);
      else unknown.push(text);
    }
  }
  const missing = unknown.filter((text) => !twins.has(text.twin));
  const roster = missing.length === 0 ? [] : await store.roster(programmeId);
  const byNumber = new Map(
    roster.flatMap((person) =>
      person.addresses.filter((one) => one.channel === 'sms').map((one) => [one.address, person] as const),
    ),
  );
  return {
    taken: texts.length - unknown.length,
    again: unknown.length - missing.length,
    missing: missing.map((text) => {
      const person = byNumber.get(text.from) ?? null;
      const standing = person === null ? 'not on the list' : person.state === 'joined' ? 'on the line' : 'off the line';
      return { text, person, standing };
    }),
  };
}
