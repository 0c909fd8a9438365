import { createHash } from 'node:crypto';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { PlayNetwork } from '../../src/channels/play/network.ts';
import { readLine } from '../../src/channels/play/script.ts';
import { Player } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Channel, OutboundMessage } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { probe } from '../probe/probe.ts';
import { partOfToday, soak } from '../support/runs.ts';
import { shipped as content } from '../support/shipped.ts';

const folder = fileURLToPath(new URL('../conversations/', import.meta.url));
const files = readdirSync(folder).filter((name) => name.endsWith('.play'));

/** Texts to one phone at one instant: more is a circle. The longest of these conversations, without a pause, has 82. */
const mostAtOnce = 120;
const dayMs = 24 * 3_600_000;

type Refuses = (message: OutboundMessage, roles: readonly string[]) => boolean;
const networks: readonly (readonly [string, Refuses])[] = [
  ['doctors', (_, roles) => roles.includes('doctor')],
  ['the laboratory', (_, roles) => roles.includes('lab')],
  ['coordinators', (_, roles) => roles.includes('coordinator')],
  ['workers', (_, roles) => roles.includes('worker')],
  ['everybody', () => true],
  ['one text in three', ({ id }) => createHash('sha256').update(id).digest()[0]! % 3 === 0],
];

/**
 * Plays a script, whatever comes of it, over a network that refuses. Gives the most texts that one phone was sent at once,
 * and what is not heard once the networks take texts again.
 */
async function most(name: string, refuses: Refuses): Promise<{ texts: number; unheard: readonly string[] }> {
  const lines = readFileSync(join(folder, name), 'utf8').split('\n').map(readLine);
  const roles = new Map(lines.flatMap((line) => (line.kind === 'phone' ? [[line.address, line.roles]] : [])));
  const counts = new Map<string, number>();
  const channelOf = PlayNetwork.prototype.channel;
  vi.spyOn(PlayNetwork.prototype, 'channel').mockImplementation(function (this: PlayNetwork, ...args) {
    const real: Channel = channelOf.apply(this, args);
    return {
      ...real,
      send: async (message) => {
        const key = `${player.now} ${message.to.address}`;
        counts.set(key, (counts.get(key) ?? 0) + 1);
        if (counts.get(key)! > mostAtOnce) return { kind: 'later', waitMs: dayMs, why: 'circle' };
        if (refuses(message, roles.get(message.to.address) ?? [])) return { kind: 'refused', why: 'blocked' };
        return real.send(message);
      },
    };
  });
  const data = mkdtempSync(join(tmpdir(), 'neckline-refusing-'));
  const file = join(data, 'line.db');
  const keys = openKeyRing(join(data, 'line.key'));
  const errors: string[] = [];
  const player = new Player({
    content,
    registry,
    log: { write: (level, event) => void (level === 'error' && errors.push(event)) },
    countSegments,
    open: (dueAtOf) => openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false }),
    emit: () => undefined,
  });
  try {
    try {
      for (const line of lines) await player.play(line);
    } finally {
      await player.close();
    }
    expect(errors).toEqual([]);
    const { faults } = await probe({ file, keys, content, at: player.now });
    return { texts: Math.max(...counts.values()), unheard: faults };
  } finally {
    rmSync(data, { recursive: true, force: true });
  }
}

afterEach(() => vi.restoreAllMocks());

/** Every second conversation meets one network, in two days, all of them together every one; in a soak each meets all. */
const meetings = partOfToday(
  files.flatMap((name, at) =>
    networks
      .filter((_, which) => soak || (at % 2 === 0 && which === (at / 2) % networks.length))
      .map(([who, refuses]) => ({ name, who, refuses })),
  ),
  2,
);

describe('where texts are refused', () => {
  it.each(meetings)(
    'to $who, $name comes to an end all the same, and every SOS is heard afterwards',
    {
      timeout: 60_000,
    },
    async ({ name, refuses }) => {
      const { texts, unheard } = await most(name, refuses);
      expect(texts).toBeLessThanOrEqual(mostAtOnce);
      expect(unheard).toEqual([]);
    },
  );
});
