import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { changedLines } from '../../src/setup/line-diff.ts';

/** The new text, from the old one and what was said to change. */
function applied(before: string, after: string): string {
  const changes = changedLines(before, after);
  const gone = new Set(changes.filter(({ sign }) => sign === '-').map(({ line }) => line));
  const rest = before.split('\n').filter((_, index) => !gone.has(index + 1));
  for (const { sign, line, text } of changes) if (sign === '+') rest.splice(line - 1, 0, text);
  return rest.join('\n');
}

describe('what a new text changes in an old one', () => {
  it('is nothing where they are the same, and one line where one differs', () => {
    expect(changedLines('a\nb\nc\n', 'a\nb\nc\n')).toEqual([]);
    expect(changedLines('a\nb\nc', 'a\nB\nc')).toEqual([
      { sign: '-', line: 2, text: 'b' },
      { sign: '+', line: 2, text: 'B' },
    ]);
  });

  it('does not call a line changed that only moved down', () => {
    expect(changedLines('a\nc\nd', 'a\nb\nc\nd')).toEqual([{ sign: '+', line: 2, text: 'b' }]);
  });

  it('makes the new text of the old one, whatever they are', () => {
    const text = fc.array(fc.constantFrom('a', 'b', 'c', ''), { maxLength: 9 }).map((lines) => lines.join('\n'));
    fc.assert(fc.property(text, text, (before, after) => applied(before, after) === after));
  });

  it('stays quick with a roster of thousands that were all written anew', () => {
    const [before, after] = ['a', 'b'].map((letter) => Array.from({ length: 5000 }, (_, at) => letter + at).join('\n'));
    expect(changedLines(before!, after!)).toHaveLength(10_000);
  });
});
