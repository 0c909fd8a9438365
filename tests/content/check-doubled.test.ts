import { describe, expect, it } from 'vitest';
import { problemsOf, spoilt, watchFlow, watchTexts } from './package-fixture.ts';

/** The neck is asked, and right after it whether it was written down. */
const asksNext = (options: string): Record<string, string> => ({
  'flows/watch.yaml': spoilt(
    spoilt(watchFlow, '      well: done\n', '      well: written\n'),
    '  wait:\n',
    `  written:
    ask: { field: neck, kind: choice, options: { ${options} } }
    transitions: { well: done, changed: done }
  wait:
`,
  ),
  'locales/en/watch.json': watchTexts.replace('"options"', '"written": "{tag}: neck? 1 well 2 changed 5 5", "options"'),
});

const doubled = (options: string): readonly string[] =>
  problemsOf(asksNext(options)).filter((line) => line.includes('a doubled answer'));

describe('a text that is delivered twice', () => {
  it('must not deny or record at the question that comes right after: such a reply is refused', () => {
    expect(doubled('well: "1", changed: "2"')).toEqual([
      expect.stringContaining('a doubled answer of watch.neck would say 1 (well)'),
    ]);
  });

  it('may add a finding there, and other replies are free', () => {
    expect(doubled('changed: "1", well: "5"')).toEqual([]);
    expect(doubled('well: "5", changed: "2"')).toEqual([]);
  });
});
