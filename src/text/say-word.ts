/** Words of a page or a picture: said by key, with the values that their placeholders name. */
import { compileTemplate, renderTemplate } from './render.ts';

/** Texts of one language, by key. */
export type Words = Readonly<Record<string, string>>;

/** The text of a key with its values put in. A key that the words lack is said as itself: `check` refuses such words. */
export function sayWord(words: Words, key: string, values: Readonly<Record<string, string | number>> = {}): string {
  return renderTemplate(compileTemplate(words[key] ?? key), (name) => String(values[name] ?? ''));
}

/** Keys of texts with the names of their placeholders. */
export type WordTable = Readonly<Record<string, readonly string[]>>;

/** Says a text; the compiler wants the values of its placeholders and no others. */
export type Sayer<Table extends WordTable> = <Key extends keyof Table & string>(
  key: Key,
  ...values: Table[Key] extends readonly [] ? [] : [Readonly<Record<Table[Key][number], string | number>>]
) => string;

/** A sayer over the words of one language. */
export function sayer<Table extends WordTable>(words: Words): Sayer<Table> {
  return (key, ...values) => sayWord(words, key, values[0] ?? {});
}
