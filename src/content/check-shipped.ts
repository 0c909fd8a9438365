/** What the code hands over to texts and flows or reads from them must be there, or a step would throw on a patient's text. */
import { asks } from '../generated/option-ids.ts';
import { stateNames } from '../generated/state-names.ts';
import { textKeys } from '../generated/text-keys.ts';
import type { ShippedNames } from './check-registry.ts';
import type { Content } from './load.ts';
import type { Problem } from './problem.ts';
import { baseKey, baseLocale } from './texts.ts';

/** The names of the build. */
export const shippedNames: ShippedNames = { textKeys, stateNames, asks };

/** Every name of the build that the content lacks, with the file and key where it belongs. */
export function checkShipped(content: Content, names: ShippedNames): readonly Problem[] {
  const faulty = new Set(content.problems.map((one) => one.file));
  const all = [...missingTexts(content, names), ...missingStates(content, names), ...missingOptions(content, names)];
  // A file that cannot be read lacks everything: its own problem says enough.
  return all.filter((one) => !faulty.has(one.file));
}

function missingTexts({ sources }: Pick<Content, 'sources'>, { textKeys }: ShippedNames): readonly Problem[] {
  const english = sources.locales.find((locale) => locale.tag === baseLocale);
  return Object.entries(textKeys).flatMap(([name, keys]) => {
    const there = english?.files.find((one) => one.name === name);
    const own = new Set([...(there?.texts.keys() ?? [])].map(baseKey));
    return lacking(keys, own).map((key) => ({
      file: there?.file ?? `locales/${baseLocale}/${name}.json`,
      line: 1,
      path: key,
      what: `there is no text ${name}.${key}`,
      todo: 'put it back: the program says it',
    }));
  });
}

function missingStates({ sources }: Pick<Content, 'sources'>, { stateNames }: ShippedNames): readonly Problem[] {
  return Object.entries(stateNames).flatMap(([name, states]) => {
    const source = sources.flows.find((one) => one.flow.name === name);
    const file = source?.file ?? `flows/${name}.yaml`;
    const todo = 'put it back: the program knows it by this name';
    if (!source) return [{ file, line: 1, path: 'flow', what: `there is no flow ${name}`, todo }];
    const own = source.flow.states;
    return lacking(states, own).map((state) => ({
      file,
      line: source.lineOf(['states']),
      path: `states.${state}`,
      what: `there is no state ${state}`,
      todo,
    }));
  });
}

function missingOptions({ sources }: Pick<Content, 'sources'>, { asks }: ShippedNames): readonly Problem[] {
  return sources.flows.flatMap(({ flow, file, lineOf }) =>
    [...flow.states].flatMap(([state, { ask }]) => {
      const built = asks[`${flow.name}.${state}`];
      if (!built) return [];
      const at = ['states', state, 'ask'];
      const problem = (what: string): Problem => {
        return { file, line: lineOf(at), path: at.join('.'), what, todo: 'put it back: the program reads it' };
      };
      if (ask?.field !== built.field) return [problem(`does not ask ${built.field}`)];
      return lacking(built.options, new Set(ask.options.map((one) => one.id))).map((id) =>
        problem(`${built.field} has no option ${id}`),
      );
    }),
  );
}

function lacking(wanted: readonly string[], there: { has(name: string): boolean }): readonly string[] {
  return wanted.filter((name) => !there.has(name));
}
