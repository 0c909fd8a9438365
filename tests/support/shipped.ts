import { type Content, loadContent } from '../../src/content/load.ts';

/** What the package says, read once for all tests of a worker. Not to be changed: other tests read it too. */
export const shipped: Content = loadContent();

/** The same held against one language alone: what is no matter of languages is found sooner. */
export const inEnglish: Content = {
  ...shipped,
  sources: { ...shipped.sources, locales: shipped.sources.locales.filter(({ tag }) => tag === 'en') },
};
