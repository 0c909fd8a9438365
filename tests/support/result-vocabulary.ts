import { vocabularyOf } from '../../src/conversation/matters/result-words.ts';
import { shipped } from './shipped.ts';

/** The words by which results are read, as they are shipped in English. */
export const resultVocabulary = vocabularyOf(shipped.texts, 'en');
