import { describe, expect, it } from 'vitest';
import { checkDoubled } from '../../src/content/check-doubled.ts';
import { MayFollow } from '../../src/content/may-follow.ts';
import { shipped } from '../support/shipped.ts';
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

  it('must not be a number that nobody said: a question of numbers asks about it', () => {
    const numbers = (traits: string): Record<string, string> => {
      const flow = asksNext('well: "1", changed: "2"')['flows/watch.yaml']!;
      const asks =
        'ask: { field: neck, kind: choice, options: { well: "1", changed: "2" } }\n    transitions: { well: done, changed: done }';
      const number = `${traits}ask: { field: inr, kind: number }\n    transitions: { answered: done }`;
      return { ...asksNext('well: "1", changed: "2"'), 'flows/watch.yaml': spoilt(flow, asks, number) };
    };
    const told = (traits: string): readonly string[] =>
      problemsOf(numbers(traits)).filter((line) => line.includes('would be a number here'));
    expect(told('')).toHaveLength(1);
    expect(told('traits: { doubled: asked }\n    ')).toEqual([]);
  });

  it('must not where a decision stands between the two, though no script ever met the pair', () => {
    const between = {
      ...asksNext('well: "1", changed: "2"'),
      'flows/watch.yaml': asksNext('well: "1", changed: "2"')
        ['flows/watch.yaml']!.replace('      well: written\n', '      well: length\n')
        .replace('{ short: neck, long: neck }', '{ short: written, long: neck }'),
    };
    expect(problemsOf(between).filter((line) => line.includes('a doubled answer'))).toEqual([
      expect.stringContaining('a doubled answer of watch.neck would say 1 (well)'),
      expect.stringContaining('a doubled answer of watch.neck would say 1 (well)'),
    ]);
    const asked = between['flows/watch.yaml']
      .replace('  written:\n', '  written:\n    traits: { doubled: asked }\n')
      .replace('  neck:\n', '  neck:\n    traits: { doubled: asked }\n');
    expect(
      problemsOf({ ...between, 'flows/watch.yaml': asked }).filter((line) => line.includes('a doubled answer')),
    ).toEqual([]);
  });

  it('may add a finding there, and other replies are free', () => {
    expect(doubled('changed: "1", well: "5"')).toEqual([]);
    expect(doubled('well: "5", changed: "2"')).toEqual([]);
  });
});

describe('the shipped conversations', () => {
  const { flows } = shipped.sources;

  /** The same flows without the trait of this question. */
  const without = (question: string) =>
    flows.map((source) => ({
      ...source,
      flow: {
        ...source.flow,
        states: new Map(
          [...source.flow.states].map(([name, state]) => {
            const { doubled: _, ...traits } = state.traits;
            return [name, `${source.flow.name}.${name}` === question ? { ...state, traits } : state];
          }),
        ),
      },
    }));

  // After a quick text any of these comes right after the other, whatever the scripts have met.
  it.each([
    ['new.family', 'new.looks', '0 (none)'],
    ['new.overactive', 'new.overactive', '1 (yes), 10 (no)'],
    ['new.inr-days', 'new.looks', '0 (none)'],
    ['new.looks', 'new.looks', '0 (none)'],
    ['new.family', 'new.overactive', '1 (yes)'],
    ['new.solid-part', 'new.bright', '30 (none)'],
    ['new.bright', 'new.bright', '30 (none)'],
    ['target.which-place', 'target.which-place', '68 (upper), 69 (lower)'],
  ])('a doubled answer of %s would deny at %s, did it not ask', (before, next, replies) => {
    const found = checkDoubled(without(next), {}).map(({ what }) => what);
    expect(found).toContain(`a doubled answer of ${before} would say ${replies}`);
    expect(checkDoubled(flows, {})).toEqual([]);
  });

  it('a run flow that is over goes on where it was run', () => {
    const sampling = flows.find(({ flow }) => flow.name === 'sampling')!.flow;
    const sos = flows.find(({ flow }) => flow.name === 'sos')!.flow;
    const may = new MayFollow(flows.map((one) => one.flow));
    const after = [...sos.states.values()].flatMap((state) => may.after(sos, state)).flatMap(({ next }) => next);
    expect(sampling.states.get('after-unwell')?.ask).not.toBeNull();
    expect(after).toContain('sampling.after-unwell');
  });
});
