import { describe, expect, it } from 'vitest';
import { shippedNames } from '../../src/content/check-shipped.ts';
import { checkTraits } from '../../src/content/check-traits.ts';
import { type Content, loadContent, readFlow } from '../../src/content/load.ts';
import { problemLine } from '../../src/content/problem.ts';
import { registry } from '../../src/conversation/matters.ts';
import { shipped } from '../support/shipped.ts';
import { packageWith, problemsOf, spoilt, watchFlow } from './package-fixture.ts';

const withTraits = (traits: string): string => spoilt(watchFlow, 'initial: press', `initial: press\ntraits: ${traits}`);

/** Problems of the shipped flows without some traits. */
function lacking(change: (source: Content['sources']['flows'][number]) => Content['sources']['flows']): string[] {
  return checkTraits(shipped.sources.flows.flatMap(change), { ...registry, shipped: shippedNames }).map(
    (one) => `${one.file}: ${one.what}`,
  );
}

describe('traits of a flow', () => {
  it('that are misspelt are refused, with the right one', () => {
    expect(problemsOf({ 'flows/watch.yaml': withTraits('{ bedsite: needle }') }).join()).toMatch(/bedsite.*bedside/u);
    expect(problemsOf({ 'flows/watch.yaml': withTraits('{ alarm: risen }') })).toHaveLength(1);
    // A state is an alarm by being an emergency; that first aid is said there is a trait of flows.
    const state = spoilt(watchFlow, '    say: press-words', '    traits: { alarm: raised }\n    say: press-words');
    expect(problemsOf({ 'flows/watch.yaml': state })).toHaveLength(1);
  });

  it('that name a timer which the state lacks are refused at their line', () => {
    const state = (name: string) =>
      spoilt(watchFlow, '    say: press-words', `    traits: { resumesOn: ${name} }\n    say: press-words`);
    expect(problemsOf({ 'flows/watch.yaml': state('over') })).toEqual([]);
    const [problem] = problemsOf({ 'flows/watch.yaml': state('ovre') });
    expect(problem).toBe(
      'flows/watch.yaml:7  states.press.traits.resumesOn  the state has no timer ovre  did you mean over?',
    );
  });

  it('carry each status in one flow', () => {
    const file = withTraits('{ carries: posting }');
    const other = file.replace('flow: watch', 'flow: other');
    const sources = [readFlow('watch', 'a', file).value!, readFlow('other', 'b', other).value!];
    expect(checkTraits(sources, {}).map(problemLine).join()).toMatch(/^b:3 .*watch carries posting too/u);
  });

  it.each(['findings', 'sampling', 'action'] as const)('lack nobody who carries %s', (status) => {
    const bare = lacking((source) =>
      source.flow.traits.carries === status ? [{ ...source, flow: { ...source.flow, traits: {} } }] : [source],
    );
    expect(bare).toEqual([`flows: no flow has the trait carries: ${status}`]);
  });

  it.each(['raised', 'offered'] as const)('lack no alarm that is %s', (alarm) => {
    const bare = lacking((source) =>
      source.flow.traits.alarm === alarm ? [{ ...source, flow: { ...source.flow, traits: {} } }] : [source],
    );
    expect(bare).toEqual([`flows: no flow has the trait alarm: ${alarm}`]);
  });
});

describe('traits that the program needs', () => {
  it('are asked of nobody who brings no program', () => {
    expect(checkTraits(loadContent(packageWith()).sources.flows, registry)).toEqual([]);
  });
});
