import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { withOlderFlows } from '../../src/cli/flow-versions.ts';
import { structureHash } from '../../src/content/flow-json.ts';
import { flowSet } from '../../src/content/load.ts';
import type { Flow, FlowOption, FlowState } from '../../src/conversation/flow.ts';
import { registry } from '../../src/conversation/matters.ts';
import { traitsOf } from '../../src/conversation/traits.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { shipped } from '../support/shipped.ts';

describe('structures of conversations', () => {
  it('a structure that was saved before it had traits has them when it is an older one', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-flows-'));
    const store = await openStore({ url: `sqlite:${join(folder, 'a.db')}`, keys: openKeyRing(join(folder, 'a.key')) });
    const log = { write: () => {} };
    try {
      const sos = shipped.flows.newest.get('sos')!;
      const only = (flow: Flow) => ({ ...shipped, flows: flowSet([flow]) });
      await withOlderFlows(only({ ...sos, traits: {} }), registry, store, log, 1);
      await withOlderFlows(only(sos), registry, store, log, 2);
      const served = await withOlderFlows(only(shipped.flows.newest.get('ask')!), registry, store, log, 3);
      expect(traitsOf(served.flows, { flow: 'sos', hash: sos.hash, state: 'wait' }).alarm).toBe('raised');
    } finally {
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });

  const today = shipped.flows.newest.get('ask')!;
  const hashed = (changed: Omit<Flow, 'hash'>): Flow => ({ ...changed, hash: structureHash(changed) });
  /** One that nobody would notice: the way back is open where today it is closed, or the other way round. */
  const older = hashed({
    ...today,
    states: new Map([...today.states].map(([name, state]) => [name, { ...state, noBack: !state.noBack }])),
  });

  /** Serves one older structure, then today's content; what is served afterwards and what was logged. */
  async function servedAfter(old: Flow, withdrawn: readonly string[] = []) {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-flows-'));
    const store = await openStore({ url: `sqlite:${join(folder, 'a.db')}`, keys: openKeyRing(join(folder, 'a.key')) });
    const logged: string[] = [];
    const log = { write: (_level: string, event: string) => logged.push(event) };
    try {
      const before = { ...shipped, flows: flowSet([old]) };
      await withOlderFlows(before, registry, store, log, 1);
      await store.saveFlow('damaged', 'ask', '{"not":"a flow"}', 2);
      const served = await withOlderFlows({ ...shipped, withdrawn }, registry, store, log, 3);
      return { flows: served.flows, logged };
    } finally {
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    }
  }

  it('a structure that was served once is served on beside the newest one', async () => {
    const { flows, logged } = await servedAfter(older);
    expect(flows.newest.get('ask')?.hash).toBe(today.hash);
    expect(flows.byHash.get(older.hash)?.name).toBe('ask');
    expect(logged).toEqual(['flow-version-unreadable']);
  });

  it('one that the programme withdrew is not served', async () => {
    const { flows, logged } = await servedAfter(older, [older.hash]);
    expect(flows.byHash.has(older.hash)).toBe(false);
    expect(logged).toEqual(['flow-version-unreadable', 'flow-version-not-served']);
  });

  const changed = (name: string, change: (state: FlowState) => Partial<FlowState>): Flow =>
    hashed({
      ...shipped.flows.newest.get(name)!,
      states: new Map(
        [...shipped.flows.newest.get(name)!.states].map(([key, state]) => [key, { ...state, ...change(state) }]),
      ),
    });

  it.each([
    ['names a decision that is gone', changed('aftercare', (of) => (of.decide ? { decide: 'of-old' } : {}))],
    ['says a text that is gone', changed('ask', (of) => ({ say: ['ask.of-old' as TextKey], noBack: !of.noBack }))],
    [
      'leaves an outcome of a decision without a way',
      changed('aftercare', (of) => (of.name === 'begin' ? { transitions: new Map([...of.transitions].slice(1)) } : {})),
    ],
    [
      'takes a digit that the text of today does not show',
      changed('aftercare', (of) =>
        of.ask?.field === 'container' ? { ask: { ...of.ask, options: of.ask.options.map(shiftedReply) } } : {},
      ),
    ],
  ])('one that %s is not served', async (_what, old) => {
    const { flows, logged } = await servedAfter(old);
    expect(flows.byHash.has(old.hash)).toBe(false);
    expect(logged).toEqual(['flow-version-unreadable', 'flow-version-not-served']);
  });
});

/** 7 and 8 instead of 1 and 2. */
function shiftedReply(option: FlowOption, index: number): FlowOption {
  return { ...option, reply: String(7 + index) };
}
