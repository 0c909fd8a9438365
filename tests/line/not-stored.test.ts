import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import { loadContent } from '../../src/content/load.ts';
import { registry } from '../../src/conversation/matters.ts';
import { Handler } from '../../src/line/handle.ts';
import type { CommitOutcome, Store } from '../../src/line/ports.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';

const content = loadContent();
const at = Date.UTC(2030, 2, 4, 8);
const text = {
  id: 'm1',
  programmeId: content.programme.id,
  keys: ['m1'],
  at,
  seed: new Uint8Array(16),
  kind: 'text',
  from: { channel: 'sms', address: '+000555010099' },
  text: 'SOS',
  networkAt: at,
} as const;

describe('a text that could not be stored', () => {
  it.each<[CommitOutcome, string]>([
    ['unavailable', 'failed'],
    ['committed', 'done'],
    ['duplicate', 'duplicate'],
  ])('is never called done: %s is %s', async (outcome, handled) => {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-not-stored-'));
    const keys = keyRingOf(new Uint8Array(32));
    const store = await openStore({ url: `sqlite:${join(folder, 'line.db')}`, keys });
    const commit = async (changes: readonly unknown[]) => changes.map(() => outcome);
    const full: Store = Object.assign(Object.create(store) as Store, { commit });
    const handler = new Handler({
      store: full,
      content,
      registry,
      random: seededRandom(1),
      log: { write: () => undefined },
    });
    expect(await handler.handle(text)).toBe(handled);
    await store.close();
    rmSync(folder, { recursive: true });
  });
});
