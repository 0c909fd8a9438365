/** The table of what people write and what must come of it, apart from every reader of the product. */
import { existsSync, readFileSync } from 'node:fs';
import { parse } from 'yaml';
import { z } from 'zod';

/** What must come of a text. `ids`: option ids, or a value as it is stored. */
export type Outcome =
  | { readonly kind: 'heard-as'; readonly ids: readonly string[] }
  | { readonly kind: 'command' | 'exit'; readonly word: string }
  | { readonly kind: 'asked-back' | 'first-aid' | 'alarm' | 'doctor' | 'nothing recorded' };

export interface CorpusText {
  readonly text: string;
  /** A question by `flow.state`, or a class of situation. */
  readonly at: string;
  readonly is: Outcome;
  /** Who else is open on the phone: a second patient with the needle in. */
  readonly two: boolean;
}

/** Classes of situation, each the question that stands for it. */
export const situations: Readonly<Record<string, string>> = {
  'needle in': 'sampling.report',
  'waiting for the doctor': 'ready.needle-doctor',
  'two patients open': 'new.story',
  'at the neck': 'aftercare.neck',
  'in an alarm': 'sos.how',
  'nothing open': 'nothing-open.worker',
  'doctor asked': 'doctor.decision',
  'laboratory, nothing open': 'nothing-open.lab',
  'doctor, nothing open': 'nothing-open.doctor',
  'coordinator, nothing open': 'nothing-open.coordinator',
};

const line = z.strictObject({ text: z.string().min(1), at: z.string(), is: z.string() });
const file = z.strictObject({ texts: z.array(line), lures: z.array(z.string().min(1)) });

function outcomeOf(said: string): Outcome {
  const [, word = '', rest = ''] = /^(\S+)\s*(.*)$/.exec(said) ?? [];
  if (word === 'heard-as' && rest !== '') return { kind: word, ids: rest.split('+') };
  if ((word === 'command' || word === 'exit') && rest !== '') return { kind: word, word: rest };
  const plain = ['asked-back', 'first-aid', 'alarm', 'doctor', 'nothing recorded'] as const;
  const found = plain.find((one) => one === said);
  if (!found) throw new Error(`no outcome: ${said}`);
  return { kind: found };
}

export interface CorpusTable {
  readonly texts: readonly CorpusText[];
  /** Texts that look like alarms or answers and are none. */
  readonly lures: readonly string[];
}

/** Reads one file of the folder; null where it is not there. */
export function tableOf(name: string): CorpusTable | null {
  const path = new URL(`./${name}`, import.meta.url);
  if (!existsSync(path)) return null;
  const { texts, lures } = file.parse(parse(readFileSync(path, 'utf8')));
  return {
    lures,
    texts: texts.map(({ text, at, is }) => ({
      text,
      at: situations[at] ?? at,
      two: at === 'two patients open',
      is: outcomeOf(is),
    })),
  };
}
