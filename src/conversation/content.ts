import type { QuickVocabulary } from './answers/quick-vocabulary.ts';
import type { FlowSet } from './flow.ts';
import type { Programme } from './programme.ts';
import type { Texts } from './texts.ts';

/** Flows, texts and programme, checked and compiled. */
export interface Content {
  readonly flows: FlowSet;
  readonly texts: Texts;
  readonly programme: Programme;
  /** Trade words of the quick text, by language. */
  readonly quick: ReadonlyMap<string, QuickVocabulary>;
}
