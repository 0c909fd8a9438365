import { describe, expect, it } from 'vitest';
import { flowSet, readFlow } from '../../src/content/load.ts';
import type { Flow } from '../../src/conversation/flow.ts';
import { flowTraits, traitsOf } from '../../src/conversation/traits.ts';

/** A flow of two states, with these lines in its head and in its first state. */
const flowWith = (head = '', state = '', first = 'wait'): Flow =>
  readFlow(
    'watch',
    'flows/watch.yaml',
    `flow: watch\ninitial: ${first}\n${head}\nstates:\n  ${first}:\n    ${state}\n    transitions: { x.y: done }\n  done: { final: true }\n`,
  ).value!.flow;
const frameOf = (flow: Flow, state = flow.initial) => ({ flow: flow.name, hash: flow.hash, state });

describe('traits', () => {
  it('of a frame are those of its flow and those of its state', () => {
    const flow = flowWith('traits: { bedside: needle }', 'traits: { resumesOn: day }');
    const set = flowSet([flow]);
    expect(traitsOf(set, frameOf(flow))).toEqual({ bedside: 'needle', resumesOn: 'day' });
    expect(traitsOf(set, frameOf(flow, 'done'))).toEqual({ bedside: 'needle' });
    expect(flowTraits(set, 'watch')).toEqual({ bedside: 'needle' });
  });

  it('of a state win over those of its flow', () => {
    const flow = flowWith('traits: { alarm: offered }', 'traits: { alarm: emergency }');
    expect(traitsOf(flowSet([flow]), frameOf(flow)).alarm).toBe('emergency');
  });

  it('of a state that ends with one thing end with what ends its flow too', () => {
    const flow = flowWith('traits: { endsWhen: not-counted }', 'traits: { endsWhen: seen-again }');
    expect(traitsOf(flowSet([flow]), frameOf(flow)).endsWhen).toEqual(['not-counted', 'seen-again']);
    expect(traitsOf(flowSet([flow]), frameOf(flow, 'done')).endsWhen).toEqual(['not-counted']);
  });

  it('of somebody on an older structure are those of the newest flow of that name', () => {
    const older = flowWith('', '', 'wait');
    const newest = flowWith('traits: { alarm: raised }\nanywhere: { x.z: done }', 'traits: { loads: later-cases }');
    expect(older.hash).not.toBe(newest.hash);
    const set = flowSet([newest], [older]);
    expect(traitsOf(set, frameOf(older))).toEqual({ alarm: 'raised', loads: 'later-cases' });
  });

  it('of a state or a flow that is no longer there are those it was saved with', () => {
    const older = flowWith('traits: { alarm: offered }', 'traits: { alarm: emergency }', 'left');
    const newest = flowWith('traits: { alarm: raised }');
    expect(traitsOf(flowSet([newest], [older]), frameOf(older)).alarm).toBe('emergency');
    expect(traitsOf(flowSet([], [older]), frameOf(older, 'done')).alarm).toBe('offered');
  });

  it('of nobody, and of what walks no flow, are none', () => {
    const set = flowSet([flowWith('traits: { alarm: raised }')]);
    expect(traitsOf(set, null)).toEqual({});
    expect(traitsOf(set, { flow: '-', hash: '-', state: '-' })).toEqual({});
    expect(flowTraits(set, 'gone')).toEqual({});
  });
});
