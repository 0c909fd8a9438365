/** What `neckline check` holds against flows, texts and programme of a package. */
import { benchWordProblems } from '../content/bench-words.ts';
import { cardProblems } from '../content/cards.ts';
import { checkEverything } from '../content/check-everything.ts';
import type { CheckRegistry } from '../content/check-registry.ts';
import type { Content } from '../content/load.ts';
import type { Problem } from '../content/problem.ts';
import { loadTraining } from '../content/scenarios.ts';
import { benchWords } from '../generated/bench-words.ts';

export interface PackageRules {
  readonly registry: CheckRegistry;
  /** Words that the line always takes, which the cards explain. */
  readonly words: readonly string[];
  /** It has the page of the bench: a package of somebody else's has none. */
  readonly hasBench: boolean;
}

/** All problems, unsorted. `root`: where the content was read from. */
export function packageProblems(content: Content, root: string, rules: PackageRules): readonly Problem[] {
  return [
    ...checkEverything(content, rules.registry),
    ...(rules.hasBench ? benchWordProblems(root, benchWords) : []),
    ...cardProblems(content, root, rules.words),
    ...loadTraining(content, root).problems,
  ];
}
