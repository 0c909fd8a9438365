import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { withOlderFlows } from '../../src/cli/flow-versions.ts';
import { structureHash } from '../../src/content/flow-json.ts';
import { flowSet } from '../../src/content/load.ts';
import type { Flow } from '../../src/conversation/flow.ts';
import { traitsOf } from '../../src/conversation/traits.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { shipped } from '../support/shipped.ts';

describe('structures of conversations', () => {
  it('a structure that was saved before it had traits has them when it is an older one', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-flows-'));
    const store = await openStore({ url: `sqlite:${join(folder, 'a.db')}`, keys: openKeyRing(join(folder, 'a.key')) });
    const log = { write: () => {} };
    try {
      const today = shipped.flows.newest.get('sos')!;
      const only = (flow: Flow) => ({ ...shipped, flows: flowSet([flow]) });
      await withOlderFlows(only({ ...today, traits: {} }), store, log, 1);
      await withOlderFlows(only(today), store, log, 2);
      const served = await withOlderFlows(only(shipped.flows.newest.get('ask')!), store, log, 3);
      expect(traitsOf(served.flows, { flow: 'sos', hash: today.hash, state: 'wait' }).alarm).toBe('raised');
    } finally {
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });

  it('a structure that was served once is served on beside the newest one', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-flows-'));
    const store = await openStore({ url: `sqlite:${join(folder, 'a.db')}`, keys: openKeyRing(join(folder, 'a.key')) });
    const logged: string[] = [];
    const log = { write: (_level: string, event: string) => logged.push(event) };
    try {
      const content = shipped;
      const today = content.flows.newest.get('ask')!;
      const changed = { ...today, states: new Map([...today.states].filter(([name]) => name !== 'done')), hash: '' };
      const old: Flow = { ...changed, hash: structureHash(changed) };
      await withOlderFlows(
        { ...content, flows: { newest: new Map([['ask', old]]), byHash: new Map() } },
        store,
        log,
        1,
      );
      await store.saveFlow('damaged', 'ask', '{"not":"a flow"}', 2);
      const served = await withOlderFlows(content, store, log, 3);
      expect(served.flows.newest.get('ask')?.hash).toBe(today.hash);
      expect(served.flows.byHash.get(today.hash)?.states.has('done')).toBe(true);
      expect(served.flows.byHash.get(old.hash)?.states.has('done')).toBe(false);
      expect(logged).toEqual(['flow-version-unreadable']);
    } finally {
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
