/** The rules of wording as problems of the content: texts that a tired reader could not take in. */
import type { CheckRegistry } from '../check-registry.ts';
import type { Content } from '../load.ts';
import type { Problem } from '../problem.ts';
import type { Locale } from '../texts.ts';
import { measureScreens } from './measure.ts';
import { wordProblems } from './table.ts';

/** Most texts of a language that may break a rule, each with its reason under `long` in its file. */
export const mostExcused = 10;

/** Every screen of every language that breaks a rule, and a language with too many excuses. */
export function checkWording({ sources }: Content, registry: CheckRegistry): readonly Problem[] {
  return sources.locales.flatMap((locale) => [
    ...wordProblems(measureScreens(locale, sources.flows, registry)),
    ...tooManyExcused(locale),
  ]);
}

function tooManyExcused(locale: Locale): readonly Problem[] {
  const excused = locale.files.flatMap((file) => Object.keys(file.long).map((key) => `${file.name}.${key}`));
  if (excused.length <= mostExcused) return [];
  const what = `${excused.length} texts give a reason for being longer: ${excused.join(', ')}`;
  return [{ file: locale.folder, line: 1, path: 'long', what, todo: `${mostExcused} at most: write them as screens` }];
}
