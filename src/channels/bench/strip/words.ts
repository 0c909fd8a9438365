/** The words of the page as the strips say them. */
import type { benchWords } from '../../../generated/bench-words.ts';
import type { Sayer } from '../../../text/say-word.ts';

export type Say = Sayer<typeof benchWords>;
