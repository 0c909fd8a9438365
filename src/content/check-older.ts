/** Structures of an earlier version: which of them the texts and the named pieces of today still fit. */
import type { Flow } from '../conversation/flow.ts';
import { withSaidVars } from './check-content.ts';
import { checkFlow } from './check-flow.ts';
import type { CheckRegistry } from './check-registry.ts';
import { checkShown } from './check-words.ts';
import type { Content, FlowSource } from './load.ts';
import { indexTexts, textUses } from './text-index.ts';
import { questionsOf } from './transition-keys.ts';

/**
 * The older structures that can be walked on: every piece that they name is there, every outcome of a decision leads
 * somewhere, and every question shows the digits by which it is answered. The others would fail on a patient's text, or
 * show one digit and take another.
 */
export function thoseThatFit(older: readonly Flow[], content: Content, names: CheckRegistry): readonly Flow[] {
  const registry = withSaidVars(names);
  const newest = [...content.flows.newest.values()];
  const against = { flows: content.flows.newest, programme: content.programme, registry };
  const indexes = content.sources.locales.map((locale) => ({ locale, index: indexTexts(locale) }));
  return older.filter((flow) => {
    const source: FlowSource = { flow, file: flow.name, lineOf: () => 1 };
    const questions = [...newest, flow].flatMap(questionsOf);
    const uses = textUses(flow);
    return (
      checkFlow(source, { ...against, questions }).length === 0 &&
      indexes.every(
        ({ locale, index }) =>
          uses.every((use) => index.has(use.key)) && checkShown(content, registry, locale, index, source).length === 0,
      )
    );
  });
}
