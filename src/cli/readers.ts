/** Who has read the texts of a language as people who work in a clinic read them. A reading is of texts: of others it says nothing. */
import { createHash } from 'node:crypto';
import type { Locale } from '../content/texts.ts';

/** Who the package says has read a language; `stands`: its texts are still those that were read. */
export interface Reader {
  readonly name: string;
  /** A day, as 2030-03-04. */
  readonly on: string;
  readonly stands: boolean;
}

/** The reader that the package names; null = nobody. */
export function readerOf(locale: Locale): Reader | null {
  const { reviewedBy = '', reviewedOn = '', reviewedTexts = '' } = locale.meta ?? {};
  return reviewedBy === '' ? null : { name: reviewedBy, on: reviewedOn, stands: reviewedTexts === textsHash(locale) };
}

/** In one line for whoever starts the bench: the languages that nobody has read as they are now; '' where all were read. */
export function unreadLine(locales: readonly Locale[]): string {
  const unread = locales.filter((one) => readerOf(one)?.stands !== true);
  if (unread.length === 0) return '';
  return `Read by a nurse: ${noneYet} (${unread.map(({ tag }) => tag).join(', ')})\n`;
}

/** How it is said that nobody has. */
export const noneYet = 'none yet';

/** All texts of a language with their keys, sorted. */
export function textsOf({ files }: Locale): readonly string[] {
  return files.flatMap(({ name, texts }) => [...texts].map(([key, text]) => `${name}.${key}=${text}`)).sort();
}

/** Of all texts of a language as they are now. */
export function textsHash(locale: Locale): string {
  return hashOf([languageId(locale.tag), ...textsOf(locale)]);
}

/** Id under which a language is signed. */
export function languageId(tag: string): string {
  return `languages.${tag}`;
}

/** Of what somebody agreed to. */
export function hashOf(parts: readonly string[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('base64url');
}
