import { benchWordsOf } from '../../../../src/content/bench-words.ts';
import { packageRoot } from '../../../../src/content/load.ts';
import type { benchWords } from '../../../../src/generated/bench-words.ts';
import { sayer } from '../../../../src/text/say-word.ts';

/** The strips' words in English. */
export const say = sayer<typeof benchWords>(benchWordsOf(packageRoot, 'en'));
