import { describe, expect, it } from 'vitest';
import { flowFromJson, flowToJson } from '../../src/content/flow-json.ts';
import { flowSet, readFlow } from '../../src/content/load.ts';
import { spoilt, watchFlow } from './package-fixture.ts';

const read = (text: string) => readFlow('watch', 'flows/watch.yaml', text).value!.flow;

describe('the hash of a flow', () => {
  const hash = read(watchFlow).hash;

  it('is 16 hexadecimal digits', () => {
    expect(hash).toMatch(/^[0-9a-f]{16}$/u);
  });

  it.each([
    ['a comment', 'initial: press', '# first\ninitial: press'],
    ['another text', 'say: press-words', 'say: other-words'],
    ['another text for a question', '    ask: { field: neck', '    text: other\n    ask: { field: neck'],
    ['traits of the flow', 'initial: press', 'initial: press\ntraits: { alarm: raised, whileFrozen: goes-on }'],
    ['traits of a state', '    say: press-words', '    traits: { resumesOn: over }\n    say: press-words'],
    ['the order of transitions', 'short: neck, long: neck', 'long: neck, short: neck'],
  ])('stays with %s', (_title, piece, by) => {
    expect(read(spoilt(watchFlow, piece, by)).hash).toBe(hash);
  });

  it.each([
    ['the order of options', '[well, changed, unknown]', '[changed, well, unknown]'],
    ['a field', 'field: neck', 'field: neckline'],
    ['a target', 'unknown: again', 'unknown: press'],
    ['a duration by another name', 'after: neck-answer', 'after: spray-dry'],
    ['a way back that closes', '    timers:\n      silent', '    noBack: true\n    timers:\n      silent'],
    ['a transition in every state', 'result.filed: { target: done }', 'result.filed: { target: press }'],
  ])('changes with %s', (_title, piece, by) => {
    expect(read(spoilt(watchFlow, piece, by)).hash).not.toBe(hash);
  });
});

describe('a stored flow', () => {
  it('comes back equal', () => {
    const flow = read(watchFlow);
    expect(flowFromJson(flowToJson(flow))).toEqual(flow);
  });

  it('comes back with its traits, and one that was saved before there were any without', () => {
    const flow = read(spoilt(watchFlow, 'initial: press', 'initial: press\ntraits: { bedside: needle }'));
    expect(flowFromJson(flowToJson(flow)).traits).toEqual({ bedside: 'needle' });
    const { traits: _traits, ...before } = JSON.parse(flowToJson(flow));
    for (const state of before.states) delete state.traits;
    expect(flowFromJson(JSON.stringify(before))).toEqual({ ...flow, traits: {} });
  });

  it('is refused when its structure was changed', () => {
    const json = flowToJson(read(watchFlow)).replace('"target":"again"', '"target":"press"');
    expect(() => flowFromJson(json)).toThrow('not that of its hash');
  });

  it('stays reachable by hash beside the newest of the same name', () => {
    const older = read(watchFlow);
    const newer = read(spoilt(watchFlow, 'unknown: again', 'unknown: press'));
    const set = flowSet([newer], [older]);
    expect(set.newest.get('watch')).toBe(newer);
    expect(set.byHash.get(older.hash)).toBe(older);
    expect(set.byHash.get(newer.hash)).toBe(newer);
  });
});
