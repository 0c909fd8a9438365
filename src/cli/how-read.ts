/** Who has read a language, and what in it is older than its English: said wherever the content is judged. */
import { fromEnglishSource, localeSources } from '../content/locale-sources.ts';
import { baseLocale, type Locale } from '../content/texts.ts';
import { olderThanEnglish } from './older-english.ts';
import { noneYet, type Reader, readerOf, textsHash } from './readers.ts';

export interface HowRead {
  readonly locale: string;
  /** Who read it as its readers would, and when; null = nobody. */
  readonly readBy: Reader | null;
  /** Of its texts as they are now. */
  readonly hash: string;
  /** Keys of entries that changed, or their English, since somebody held one against the other. */
  readonly older: readonly string[];
}

/** How it stands with a language of the package under `root`. */
export function howRead(locale: Locale, root: string): HowRead {
  const { tag } = locale;
  const own = () => localeSources(root, tag);
  const older =
    tag === baseLocale ? [] : olderThanEnglish(localeSources(root, baseLocale), own(), fromEnglishSource(root, tag));
  return { locale: tag, readBy: readerOf(locale), hash: textsHash(locale), older };
}

const mostShown = 8;

/** The same in a line. A machine's reading is no tired nurse. */
export function howReadLine({ locale, readBy, hash, older }: HowRead): string {
  const said = `${locale}: read by a nurse: ${readWords(readBy, hash)}`;
  if (older.length === 0) return said;
  const more = older.length > mostShown ? ` and ${older.length - mostShown} more` : '';
  return `${said}; ${older.length} changed, or their English, since they were compared: ${older.slice(0, mostShown).join(', ')}${more}`;
}

function readWords(reader: Reader | null, hash: string): string {
  if (reader === null) return noneYet;
  const { name, on, stands } = reader;
  return stands
    ? `${name}, ${on}`
    : `${noneYet} as they are now: ${name} read others on ${on} (these are reviewedTexts ${hash})`;
}
