import { expect, it } from 'vitest';
import { seededRandom } from '../../src/cli/player.ts';
import type { Handler } from '../../src/line/handle.ts';
import type { Store } from '../../src/line/ports.ts';
import { Watch } from '../../src/line/watch.ts';
import { healthOf } from '../../src/observe/health.ts';

const marks = new Map<string, string>();
const told: string[] = [];
const store = {
  mark: async (name: string) => marks.get(name) ?? null,
  setMark: async (name: string, value: string) => void marks.set(name, value),
  nextDueAt: async () => null,
  nextOutboxAt: async () => null,
  parked: async () => [],
  queues: async () => [],
} as Partial<Store> as Store;
const handler = {
  handle: async (event: { due: { what: { key: string } } }) => {
    told.push(event.due.what.key);
    return 'done';
  },
} as unknown as Handler;
const clock = { now: () => 5 };

it('coordinators hear once that the database file is damaged, and again only after it was sound', async () => {
  const watch = new Watch({
    store,
    handler,
    clock,
    random: seededRandom(1),
    log: { write: () => undefined },
    programmeId: 'tamboro',
  } as never);
  for (const sound of [true, false, false, true, false]) await watch.file(sound);
  expect(told).toEqual(['database-damaged', 'database-damaged']);
});

it('health is not green on a damaged file', async () => {
  const healthOn = (sound: boolean) => healthOf({ store, clock, links: new Map(), sound: () => sound, database: null });
  expect(await healthOn(true)).toMatchObject({ ok: true, sound: true });
  expect(await healthOn(false)).toMatchObject({ ok: false, sound: false });
});
