import { askedAfter } from '../generated/asked-after.ts';
import { checkDoubled } from './check-doubled.ts';
import { checkFlow } from './check-flow.ts';
import type { CheckRegistry } from './check-registry.ts';
import { checkShipped } from './check-shipped.ts';
import { checkTexts } from './check-texts.ts';
import { checkTraits } from './check-traits.ts';
import { checkVoices } from './check-voices.ts';
import { checkWords } from './check-words.ts';
import { type Content, loadContent, packageRoot } from './load.ts';
import { type Problem, sortProblems } from './problem.ts';
import { saidVars } from './said-vars.ts';
import { questionsOf } from './transition-keys.ts';

/**
 * Everything that is wrong with the content, its shape first found by `loadContent` included. Empty = it can be used. How it
 * reads is `checkWording`'s: a start has no need of that.
 */
export function checkContent(content: Content, names: CheckRegistry = {}): readonly Problem[] {
  const registry = withSaidVars(names);
  const { flows } = content.sources;
  const against = {
    flows: new Map([
      ...content.flows.newest,
      // A flow whose file has problems of its own is not also missing everywhere.
      ...content.problems.flatMap((problem) => /^flows\/(.+)\.yaml$/u.exec(problem.file)?.[1] ?? []).map(named),
    ]),
    programme: content.programme,
    questions: flows.flatMap((source) => questionsOf(source.flow)),
    registry,
  };
  return sortProblems([
    ...content.problems,
    ...flows.flatMap((source) => checkFlow(source, against)),
    ...checkTraits(flows, registry),
    ...checkDoubled(flows, registry.shipped ? askedAfter : {}),
    ...checkTexts(content, registry),
    ...checkVoices(content, registry),
    ...checkWords(content, registry),
    // A package of somebody's own has other places.
    ...(registry.shipped ? checkShipped(content, registry.shipped) : []),
  ]);
}

/** Content that passed every check, or its problems. A start uses this and nothing else. */
export function loadSoundContent(
  registry: CheckRegistry,
  root: string = packageRoot,
): { readonly ok: true; readonly content: Content } | { readonly ok: false; readonly problems: readonly Problem[] } {
  const content = loadContent(root);
  const problems = checkContent(content, registry);
  return problems.length === 0 ? { ok: true, content } : { ok: false, problems };
}

/** The registry with the values that code hands over with its texts. */
export function withSaidVars(names: CheckRegistry): CheckRegistry {
  return {
    ...names,
    vars: names.vars ?? saidVars,
    samples: new Map([...saidVars, ...(names.samples ?? [])]),
  };
}

function named(name: string): readonly [string, null] {
  return [name, null];
}
