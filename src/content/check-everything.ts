/** What `neckline check` refuses: the content's faults, and how it reads. A start asks for the first alone (`checkContent`). */
import { checkCautions } from './check-cautions.ts';
import { checkContent, withSaidVars } from './check-content.ts';
import type { CheckRegistry } from './check-registry.ts';
import { checkSentWords } from './check-sent-words.ts';
import { checkSentences } from './check-sentences.ts';
import { checkTradeWords } from './check-trade-words.ts';
import type { Content } from './load.ts';
import { type Problem, sortProblems } from './problem.ts';
import { checkWording } from './wording/check-wording.ts';

/** All problems of the content, in the order of their files. Empty = nothing is held against it. */
export function checkEverything(content: Content, names: CheckRegistry = {}): readonly Problem[] {
  const registry = withSaidVars(names);
  return sortProblems([
    ...checkContent(content, registry),
    ...checkCautions(content.sources.locales),
    ...checkSentWords(content.sources.locales),
    ...checkSentences(content.sources.locales),
    ...checkTradeWords(content.sources.locales, content.sources.flows, content.texts.label),
    // A package of somebody's own speaks as it likes.
    ...(registry.shipped ? checkWording(content, registry) : []),
  ]);
}
