/** Reads the file that a review sheet saves: what a reviewer would have a language say instead. */
import { z } from 'zod';
import { readJson } from '../content/json-source.ts';
import type { Read } from '../content/locale-file.ts';
import type { Problem } from '../content/problem.ts';
import { schemaProblems } from '../content/schema-problems.ts';
import { localeForm } from '../content/texts.ts';
import type { Path } from '../content/yaml-source.ts';
import type { Written } from './entry.ts';

/** The form of the file; another number is another form. */
export const changesForm = 1;

export interface Change {
  readonly key: string;
  /** As the sheet had it; null = the language said nothing. */
  readonly was: Written | null;
  /** The same as `was` = a remark alone. */
  readonly becomes: Written | null;
  /** The English text beside it, as the sheet had it; null in a sheet of English alone. */
  readonly english: Written | null;
  /** '' = none. */
  readonly note: string;
  /** Who says so. */
  readonly by: string;
}

export interface ChangesFile {
  readonly file: string;
  /** Version of the line that made the sheet. */
  readonly version: string;
  /** The language that is changed. */
  readonly locale: string;
  /** Hash of all that the sheet showed. */
  readonly source: string;
  readonly changes: readonly Change[];
  lineOf(path: Path): number;
}

const written = z.union([
  z.string().min(1, 'should not be empty'),
  z.array(z.string().min(1, 'should not be empty')).min(1, 'should not be empty'),
]);

const schema = z.strictObject({
  form: z.literal(changesForm),
  version: z.string(),
  locale: z.string().regex(localeForm, 'a language as en or fr-CM'),
  source: z.string(),
  changes: z
    .array(
      z.strictObject({
        key: z.string(),
        was: written.nullable(),
        becomes: written.nullable(),
        english: written.nullable().default(null),
        note: z.string().default(''),
        by: z.string().trim().min(1, 'the name of whoever says so'),
      }),
    )
    .min(1, 'there is no change in it'),
});

const keys = ['form', 'version', 'locale', 'source', 'changes', 'key', 'was', 'becomes', 'english', 'note', 'by'];

/** Null with problems when it is no such file. Never throws. */
export function readChanges(file: string, text: string): Read<ChangesFile> {
  const json = readJson(file, text);
  if (json.data === undefined) return { value: null, problems: json.problems };
  const parsed = schema.safeParse(json.data, { reportInput: true });
  if (!parsed.success) {
    return { value: null, problems: [...json.problems, ...schemaProblems(json, parsed.error, keys)] };
  }
  const { version, locale, source, changes } = parsed.data;
  return { value: { file, version, locale, source, changes, lineOf: json.lineOf }, problems: json.problems };
}

/** A problem of one change, by its place in the file. */
export function problemOfChange(
  { file, changes, lineOf }: ChangesFile,
  place: number,
  [what, todo]: readonly [what: string, todo: string],
): Problem {
  return { file, line: lineOf(['changes', place, 'key']), path: changes[place]!.key, what, todo };
}
