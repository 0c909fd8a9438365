import { z } from 'zod';
import type { QuickVocabulary } from '../conversation/answers/quick-vocabulary.ts';
import { foldWord } from '../text/fold.ts';
import { readJson } from './json-source.ts';
import type { Read } from './locale-file.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';

const words = z.array(z.string().min(1));
const named = z.record(z.string(), z.string());

const quickSchema = z.strictObject({
  start: words,
  fillers: words,
  doubts: words,
  denials: words,
  none: words,
  sides: z.record(z.string(), z.enum(['right', 'left', 'isthmus'])),
  units: z.record(z.string(), z.enum(['mm', 'cm'])),
  patient: z.strictObject({
    sex: z.record(z.string(), z.enum(['female', 'male'])),
    eitherSex: words.optional(),
    pregnant: words,
    years: words,
    weeks: words,
  }),
  lists: named,
  numbersBehind: named,
  numbersBefore: named,
  words: z.record(
    z.string(),
    z.array(z.strictObject({ field: z.string(), value: z.union([z.string(), z.boolean()]) })).min(1),
  ),
});

/** Reads `quick.json`: the trade words of the quick text. Words not in their compared form are refused: they never match. */
export function readQuick(file: string, source: string): Read<QuickVocabulary> {
  const json = readJson(file, source);
  if (json.data === undefined) return { value: null, problems: json.problems };
  const parsed = quickSchema.safeParse(json.data, { reportInput: true });
  if (!parsed.success) {
    const problems = schemaProblems(json, parsed.error, Object.keys(quickSchema.shape));
    return { value: null, problems: [...json.problems, ...problems] };
  }
  const problems: Problem[] = [...json.problems];
  const value = parsed.data;
  const keyed = { sides: value.sides, units: value.units, lists: value.lists, words: value.words };
  for (const [part, entries] of Object.entries(keyed)) {
    for (const word of Object.keys(entries)) {
      const folded = foldWord(word);
      if (folded === word) continue;
      const path = `${part}.${word}`;
      problems.push({ file, line: json.lineOf([part, word]), path, what: 'never matches', todo: `write ${folded}` });
    }
  }
  return { value, problems };
}
