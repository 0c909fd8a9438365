/** One question of the interview, and the ways in which answers are read. */
import type { z } from 'zod';

/** What an answer means, or what was expected. */
export type ReadAnswer =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly expected: string };

export interface Question {
  /** Where the answer stands among the answers, e.g. `clinics.0.name`. */
  readonly id: string;
  readonly words: string;
  /** Answer of whoever says nothing; null = something has to be said. */
  readonly usual: string | null;
  readonly example: string;
  /** What `?` gives. */
  readonly explain: string;
  read(text: string): ReadAnswer;
}

/** What every question needs to be asked; the rest has a usual value. */
export interface Asked {
  readonly id: string;
  readonly words: string;
  readonly explain: string;
  readonly example?: string;
  readonly usual?: string | null;
}

type Reader = (text: string) => ReadAnswer;

/** Asks, and gives what was meant. */
export function* ask<T>(asked: Asked, read: Reader): Generator<Question, T, unknown> {
  return (yield { usual: null, example: '', ...asked, read }) as T;
}

/** Text as the schema of the file takes it; empty is absent where the schema allows that. */
export function bySchema(schema: z.ZodType): Reader {
  return (text) => {
    const read = schema.safeParse(text === '' ? undefined : text);
    return read.success
      ? { ok: true, value: read.data }
      : { ok: false, expected: read.error.issues[0]?.message ?? 'something else' };
  };
}

/** Several, with commas or spaces between them. */
export function listOf(item: z.ZodType, separator: RegExp = /[\s,;]+/): Reader {
  return (text) => {
    const parts = text.split(separator).map((one) => one.trim());
    const values: unknown[] = [];
    for (const part of parts.filter((one) => one !== '')) {
      const read = item.safeParse(part);
      if (!read.success) return { ok: false, expected: `${read.error.issues[0]?.message}, not ${part}` };
      values.push(read.data);
    }
    return { ok: true, value: values };
  };
}

export const yesOrNo: Reader = (text) => {
  const word = text.toLowerCase();
  if (['yes', 'y'].includes(word)) return { ok: true, value: true };
  if (['no', 'n'].includes(word)) return { ok: true, value: false };
  return { ok: false, expected: 'yes or no' };
};

/** A number within a schema of numbers; empty is absent where the schema allows that. */
export function numberBy(schema: z.ZodType): Reader {
  return (text) => bySchema(schema)((text === '' ? undefined : Number(text.replace(',', '.'))) as never);
}

/** One of a few words. */
export function oneOf(words: readonly string[]): Reader {
  return (text) => {
    const found = words.find((one) => one.toLowerCase() === text.toLowerCase());
    return found === undefined ? { ok: false, expected: `one of: ${words.join(', ')}` } : { ok: true, value: found };
  };
}
