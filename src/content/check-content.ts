import { checkFlow } from './check-flow.ts';
import type { CheckRegistry } from './check-registry.ts';
import { checkTexts } from './check-texts.ts';
import { checkWords } from './check-words.ts';
import { type Content, loadContent, packageRoot } from './load.ts';
import { type Problem, sortProblems } from './problem.ts';
import { questionsOf } from './transition-keys.ts';

/** Everything that is wrong with the content, its shape first found by `loadContent` included. Empty = it can be used. */
export function checkContent(content: Content, registry: CheckRegistry = {}): readonly Problem[] {
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
    ...checkTexts(content, registry),
    ...checkWords(content),
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

function named(name: string): readonly [string, null] {
  return [name, null];
}
