import { screensOf } from '../text/screens.ts';
import { countSegments, userDataOctets } from '../text/segments.ts';
import type { CheckRegistry } from './check-registry.ts';
import { indexTexts, typicalText } from './text-index.ts';
import type { Locale } from './texts.ts';

/** What the plain texts of one file cost in one language, with values of usual width. */
export interface CostRow {
  readonly locale: string;
  readonly file: string;
  readonly texts: number;
  /** If each text went out once. */
  readonly segments: number;
  /** Segments of the longest screen. */
  readonly longest: number;
  /** Octets of user data, if each text went out once. */
  readonly octets: number;
  readonly encoding: 'GSM-7' | 'UCS-2' | 'both';
}

/** Cost of every file of every language. */
export function costRows(locales: readonly Locale[], registry: CheckRegistry): readonly CostRow[] {
  return locales.flatMap((locale) => {
    const entries = [...indexTexts(locale).values()].flat().filter(({ voice }) => voice === 'plain');
    return locale.files.map((file) => {
      const texts = entries
        .filter((entry) => entry.file === file)
        .map((entry) => screensOf(typicalText(entry.template, registry)));
      const screens = texts.flat();
      const counts = screens.map(countSegments);
      const encodings = [...new Set(counts.map((one) => one.encoding))];
      return {
        locale: locale.tag,
        file: file.name,
        texts: texts.length,
        segments: counts.reduce((sum, one) => sum + one.segments, 0),
        longest: Math.max(0, ...counts.map((one) => one.segments)),
        octets: screens.reduce((sum, text) => sum + userDataOctets(text), 0),
        encoding: encodings.length > 1 ? 'both' : (encodings[0] ?? 'GSM-7'),
      };
    });
  });
}
