import { z } from 'zod';
import { type AlarmWords, alarmAnswers, alarmLists } from '../conversation/hearing/alarm-words.ts';
import { foldWord } from '../text/fold.ts';
import { readJson } from './json-source.ts';
import type { Read } from './locale-file.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';

/** Phrases; `he/she faints` is two, kept as it is written: there can be thousands. */
const patterns = z
  .string()
  .min(1, 'should not be empty')
  .refine((all) => !/(?:^|[ |/])\/|\/(?:[ |]|$)/.test(all), 'should have a word on both sides of each /')
  .transform((all) => all.split('|').map((one) => one.trim()));

/** The same written out, where words are looked up and not searched for. */
const phrases = patterns.transform((all) => all.flatMap(writtenOut));

const alarmSchema = z.strictObject({
  letters: z.strictObject({ sos: phrases, worse: phrases }),
  answers: z.strictObject(
    Object.fromEntries(alarmAnswers.map((one) => [one, phrases])) as Record<
      (typeof alarmAnswers)[number],
      typeof phrases
    >,
  ),
  now: patterns,
  soon: patterns,
  alone: z.strictObject({ now: patterns, soon: patterns }),
  fillers: phrases,
  no: phrases,
  not: phrases,
  firm: phrases,
  joins: phrases,
  turns: phrases,
  over: patterns,
  asked: patterns,
  past: patterns,
  present: phrases,
  others: phrases,
  lures: patterns,
  usual: phrases,
});

/** `he/she faints`: each of the phrases. */
function writtenOut(pattern: string): readonly string[] {
  return pattern
    .split(' ')
    .map((place) => place.split('/'))
    .reduce<string[]>((begun, place) => begun.flatMap((one) => place.map((word) => `${one} ${word}`)), [''])
    .map((phrase) => phrase.trim());
}

/** Words of letters that stay as they are when they are compared, as nearly all phrases are. */
const folded = /^[a-z\d#/ \u0621\u0627\u0628\u062a-\u063a\u0641-\u0648\u064a]+$/u;

/** Reads `alarm.json`: what is heard as a cry. Phrases not in their compared form are refused: they never match. Never throws. */
export function readAlarm(file: string, source: string): Read<AlarmWords> {
  const json = readJson(file, source);
  if (json.data === undefined) return { value: null, problems: json.problems };
  const parsed = alarmSchema.safeParse(json.data, { reportInput: true });
  if (!parsed.success) {
    const problems = schemaProblems(json, parsed.error, Object.keys(alarmSchema.shape));
    return { value: null, problems: [...json.problems, ...problems] };
  }
  const problems: Problem[] = [...json.problems];
  for (const [path, list] of alarmLists(parsed.data)) {
    const at = { file, line: json.lineOf(path.split('.')), path };
    const problem = (phrase: string, todo: string): Problem => ({ ...at, what: `${phrase} never matches`, todo });
    for (const phrase of list.flatMap((one) => (folded.test(one) ? [] : writtenOut(one)))) {
      const compared = foldWord(phrase);
      if (compared !== phrase) problems.push(problem(phrase, `write ${compared}`));
      else if (/[^\p{L}\p{M}\p{N}# ]/u.test(phrase))
        problems.push(problem(phrase, 'write words only, cant for can not'));
    }
  }
  return { value: parsed.data, problems };
}
