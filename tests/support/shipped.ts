import { type Content, loadContent } from '../../src/content/load.ts';

/** What the package says, read once for all tests of a worker. Not to be changed: other tests read it too. */
export const shipped: Content = loadContent();
