import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type LinkFacts, type LinkState, type Parked, unreadableForMs } from '../../src/line/ports.ts';
import { type HealthParts, healthOf, lateAtMostMs } from '../../src/observe/health.ts';

const now = Date.UTC(2030, 2, 4, 8);
const quiet: LinkFacts = { sent: [], heardAt: null, waitingSince: null, credit: null };

function healthWith(
  store: Partial<HealthParts['store']>,
  links: Readonly<Record<string, LinkState>> = {},
  database: string | null = null,
  unreadable: ReturnType<NonNullable<HealthParts['unreadable']>> = { count: 0, lastAt: null },
) {
  return healthOf({
    store: {
      nextDueAt: async () => null,
      nextOutboxAt: async () => null,
      parked: async () => [],
      queues: async () => [],
      link: async () => quiet,
      ...store,
    },
    clock: { now: () => now },
    links: new Map(Object.entries(links).map(([name, state]) => [name, () => state])),
    unreadable: () => unreadable,
    database,
  });
}

describe('health', () => {
  it('says of a trial that it is one, and is well all the same', async () => {
    const parts = { clock: { now: () => now }, links: new Map(), database: null };
    const store = { nextDueAt: async () => null, nextOutboxAt: async () => null, parked: async () => [] };
    const asked = { ...store, queues: async () => [], link: async () => quiet };
    expect(await healthOf({ ...parts, store: asked, trial: true })).toMatchObject({ ok: true, trial: true });
    expect(await healthOf({ ...parts, store: asked })).toMatchObject({ ok: true, trial: false });
  });

  it.each([
    ['nothing waits', null, null, 0, true],
    ['all is still to come', now + 1, now + 1, 0, true],
    ['something is due for a moment', now - 1000, now - 1000, 0, true],
    ['a due row is late', now - lateAtMostMs - 1, null, 0, false],
    ['a text is late', null, now - lateAtMostMs - 1, 0, false],
    ['an event waits for a human', null, null, 1, false],
  ])('%s', async (_what, dueAt, outAt, parked, ok) => {
    const found = await healthWith({
      nextDueAt: async () => dueAt,
      nextOutboxAt: async () => outAt,
      parked: async () => Array.from({ length: parked }, () => ({}) as Parked),
    });
    expect(found).toMatchObject({ ok, parked });
  });

  it.each([
    ['ok', true],
    ['mute', true],
    ['clock', true],
    ['slow', false],
    ['doubtful', false],
    ['deaf', false],
  ] as const)('a link that is %s', async (state, ok) => {
    expect(await healthWith({}, { telegram: 'ok', sms: state })).toMatchObject({ ok, links: { sms: { state } } });
  });

  it.each([
    ['none came', 0, null, true],
    ['one came a minute ago', 7, 60_000, false],
    ['the last one came hours ago', 7, unreadableForMs + 1, true],
  ])('calls of the gateway that cannot be read: %s', async (_what, count, ago, ok) => {
    const found = await healthWith({}, {}, null, { count, lastAt: ago === null ? null : now - ago });
    expect(found).toMatchObject({ ok, unreadableCalls: { count, lastAgoMs: ago } });
  });

  it('tells how long texts of each lane wait, and when each link was last in touch', async () => {
    const found = await healthWith(
      {
        queues: async () => [{ lane: 'sos', texts: 2, oldestAt: now - 4000 }],
        link: async () => ({
          sent: [
            { handedAt: now - 10, reportedAt: null },
            { handedAt: now - 500, reportedAt: now - 300 },
          ],
          heardAt: now - 70,
          waitingSince: null,
          credit: { left: 40, granted: 100 },
        }),
      },
      { sms: 'ok' },
    );
    expect(found.queues).toEqual({ sos: { texts: 2, oldestMs: 4000 } });
    expect(found.links).toEqual({
      sms: { state: 'ok', heardAgoMs: 70, handedAgoMs: 10, reportedAgoMs: 300, creditLeft: 40, ways: {} },
    });
    expect(found).toMatchObject({ walBytes: null, freeBytes: null });
  });

  it('measures the write-ahead log and the space that is left', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'neckline-health-'));
    const file = join(folder, 'neckline.db');
    writeFileSync(file, '');
    expect(await healthWith({}, {}, file)).toMatchObject({ walBytes: 0 });
    writeFileSync(`${file}-wal`, Buffer.alloc(1234));
    const found = await healthWith({}, {}, file);
    expect(found.walBytes).toBe(1234);
    expect(found.freeBytes).toBeGreaterThan(0);
    rmSync(folder, { recursive: true, force: true });
  });
});
