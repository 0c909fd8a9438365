/** The language of the phone bench: of its page, and of the invented people that its first start puts on the phones. */
import type { Settings } from '../config.ts';
import { baseLocale } from '../content/texts.ts';
import type { Content } from '../conversation/content.ts';
import { Refused } from './open-line.ts';

/** The one that the settings name, else the first of the programme, else English. Refused where its texts are not loaded. */
export function benchLanguage(
  { NECKLINE_BENCH_LANGUAGE: named }: Pick<Settings, 'NECKLINE_BENCH_LANGUAGE'>,
  { texts, programme }: Pick<Content, 'texts' | 'programme'>,
): string {
  const { languages } = programme;
  const language = named ?? (languages === 'all' ? baseLocale : (languages[0] ?? baseLocale));
  const tags = texts.languages.map(({ tag }) => tag);
  if (tags.includes(language)) return language;
  throw new Refused(
    `NECKLINE_BENCH_LANGUAGE: the programme does not speak ${language}; use one of: ${tags.join(', ')}`,
  );
}
