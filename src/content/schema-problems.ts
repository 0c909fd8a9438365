import type { z } from 'zod';
import { closest } from './closest.ts';
import type { Problem } from './problem.ts';
import type { YamlSource } from './yaml-source.ts';

/** Turns what a schema found into problems with lines. `knownKeys` are offered when a key is misspelt. */
export function schemaProblems(
  source: Pick<YamlSource, 'file' | 'lineOf'>,
  error: z.ZodError,
  knownKeys: readonly string[],
): readonly Problem[] {
  return error.issues.flatMap((issue) => {
    const path = issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step));
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map((key) => ({
        file: source.file,
        line: source.lineOf([...path, key]),
        path: [...path, key].join('.'),
        what: `unknown key ${key}`,
        todo: hint(key, knownKeys),
      }));
    }
    const { what, todo } = words(issue);
    return [{ file: source.file, line: source.lineOf(path), path: path.join('.') || '-', what, todo }];
  });
}

function hint(key: string, known: readonly string[]): string {
  const near = closest(key, known);
  return near === null ? 'remove it' : `did you mean ${near}?`;
}

function words(issue: z.core.$ZodIssue): { readonly what: string; readonly todo: string } {
  switch (issue.code) {
    case 'invalid_type': {
      if (issue.input === undefined && issue.message.includes('received undefined')) {
        return { what: 'is missing', todo: `give ${kindWords(issue.expected)}` };
      }
      const kind = kindWords(issue.expected);
      const todo = issue.expected === 'string' ? 'write a word, in quotes if it looks like a number' : `give ${kind}`;
      return { what: `should be ${kind}`, todo };
    }
    case 'invalid_value':
      return { what: 'is not one of the known values', todo: `use one of: ${issue.values.join(', ')}` };
    case 'custom':
      return {
        what: issue.message,
        todo: typeof issue.params?.todo === 'string' ? issue.params.todo : 'correct it',
      };
    case 'invalid_format':
      return { what: 'is not written as expected', todo: issue.message };
    default:
      return { what: issue.message, todo: 'correct it' };
  }
}

/** What was expected, for somebody who writes no programs. */
function kindWords(expected: string): string {
  switch (expected) {
    case 'boolean':
      return 'true or false';
    case 'array':
      return 'a list';
    case 'object':
    case 'record':
      return 'keys with values';
    case 'int':
      return 'a whole number';
    default:
      return `a ${expected}`;
  }
}
