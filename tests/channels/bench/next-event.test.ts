import { describe, expect, it } from 'vitest';
import { keysOf } from '../../../src/channels/bench/next-event.ts';
import { sayFirst } from '../../../src/channels/bench/words.ts';
import { benchWordsOf } from '../../../src/content/bench-words.ts';
import { packageRoot } from '../../../src/content/load.ts';
import type { DueWhat } from '../../../src/conversation/event.ts';
import { shipped } from '../../support/shipped.ts';

const words = benchWordsOf(packageRoot, 'en');
const states = [...shipped.flows.newest.values()].flatMap((flow) =>
  [...flow.states.values()].map((state) => ({ flow, state })),
);

describe('what comes next', () => {
  it('has words for every timer of the flows', () => {
    const mute = states.flatMap(({ flow, state }) =>
      state.timers
        .map(({ name, late }) => ({ kind: 'timer', frameId: '', entry: 0, name, late }) as const)
        .filter((what) => sayFirst(words, keysOf(what, { flow: flow.name, state: state.name })) === '')
        .map((what) => `${flow.name}.${state.name} ${what.name}`),
    );
    expect(mute).toEqual([]);
  });

  it('has none for what no flow has', () => {
    const timers = states.flatMap(({ flow, state }) =>
      state.timers.flatMap(({ name, late }) =>
        keysOf({ kind: 'timer', frameId: '', entry: 0, name, late }, { flow: flow.name, state: state.name }),
      ),
    );
    const kinds: readonly DueWhat['kind'][] = [
      ...(['tell', 'run', 'answered', 'ask-doctor', 'climb', 'welcome', 'stock', 'overview', 'look-again'] as const),
      'overdue',
    ];
    const known = new Set([...timers, ...[...kinds, 'of', 'more', 'text', 'other'].map((one) => `page-next-${one}`)]);
    const said = Object.keys(words).filter((one) => one.startsWith('page-next-'));
    expect(said.filter((one) => !known.has(one))).toEqual([]);
  });
});
