import { indexTexts, type TextEntry } from '../../src/content/text-index.ts';
import { shipped } from '../support/shipped.ts';

/** Heard, and not said. */
const heard: ReadonlySet<string> = new Set([
  'alarm',
  'cautions',
  'everyday',
  'from-english',
  'keywords',
  'quick',
  'meta',
]);

/** The texts of a language that people are shown; words that are only heard are none of them. */
export const shown = (tag: string): readonly TextEntry[] =>
  [...indexTexts(shipped.sources.locales.find((one) => one.tag === tag)!).values()]
    .flat()
    .filter(
      ({ key, ownKey, file }) => !heard.has(file.name) && !ownKey.startsWith('options.') && !key.endsWith('.options'),
    );
