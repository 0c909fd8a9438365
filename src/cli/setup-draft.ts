/** What was said in an interview, kept in the folder so that it goes on another day. */
import { z } from 'zod';
import type { Said } from '../setup/talk.ts';
import { writeWhole } from '../store/whole-file.ts';
import { Refused } from './open-line.ts';
import { textIfThere } from './setup-files.ts';

const draftSchema = z.strictObject({
  finished: z.boolean(),
  said: z.array(z.strictObject({ id: z.string(), text: z.string() })),
  earlier: z.array(z.strictObject({ id: z.string(), text: z.string() })).default([]),
});

export interface Draft {
  /** All was asked, and files were written. */
  readonly finished: boolean;
  readonly said: readonly Said[];
  /** Of the round before. */
  readonly earlier: readonly Said[];
}

/** The draft of a folder; an empty one where there is none. `Refused` for a file that is something else. */
export function readDraft(file: string): Draft {
  const text = textIfThere(file);
  if (text === null) return { finished: false, said: [], earlier: [] };
  try {
    return draftSchema.parse(JSON.parse(text));
  } catch {
    throw new Refused(`${file}: this is not what an interview left; take it away to begin anew`);
  }
}

/** Keeps it, for its owner only. */
export function keepDraft(file: string, draft: Draft): void {
  writeWhole(file, `${JSON.stringify(draft, null, 1)}\n`);
}
