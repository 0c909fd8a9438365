/** Who has read a language, and what in it is older than its English: said wherever the content is judged. */
import { fromEnglishSource, localeSources } from '../content/locale-sources.ts';
import { baseLocale, type Locale } from '../content/texts.ts';
import { olderThanEnglish } from './older-english.ts';

export interface HowRead {
  readonly locale: string;
  /** Who read it as its readers would, and when; null = nobody. */
  readonly readBy: { readonly name: string; readonly on: string } | null;
  /** Keys of entries that changed, or their English, since somebody held one against the other. */
  readonly older: readonly string[];
}

/** How it stands with a language of the package under `root`. */
export function howRead({ tag, meta }: Locale, root: string): HowRead {
  const own = () => localeSources(root, tag);
  const older =
    tag === baseLocale ? [] : olderThanEnglish(localeSources(root, baseLocale), own(), fromEnglishSource(root, tag));
  const readBy = meta?.reviewedBy ? { name: meta.reviewedBy, on: meta.reviewedOn } : null;
  return { locale: tag, readBy, older };
}

const mostShown = 8;

/** The same in a line. A machine's reading is no tired nurse. */
export function howReadLine({ locale, readBy, older }: HowRead): string {
  const by = readBy ? `${readBy.name}, ${readBy.on}` : 'none yet';
  const said = `${locale}: read by a nurse: ${by}`;
  if (older.length === 0) return said;
  const more = older.length > mostShown ? ` and ${older.length - mostShown} more` : '';
  return `${said}; ${older.length} changed, or their English, since they were compared: ${older.slice(0, mostShown).join(', ')}${more}`;
}
