import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { readLine } from '../../src/channels/play/script.ts';
import { Player } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import type { Store } from '../../src/line/ports.ts';
import { jsonLog } from '../../src/observe/log.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { shipped as content } from '../support/shipped.ts';

const plays = new URL('../conversations/', import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'neckline-logs-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Every eighth play, and all that go wrong on purpose. */
const scripts = readdirSync(plays)
  .filter((name) => name.endsWith('.play'))
  .sort()
  .filter((name, place) => place % 12 === 0 || /straight|forged|bad-|crash/.test(name));

/** The store of a line whose disk fails now and then: what is logged then must be as clean. */
function failing(store: Store): Store {
  let calls = 0;
  return new Proxy(store, {
    get(target, name) {
      const value = Reflect.get(target, name, target) as unknown;
      if (name !== 'commit') return typeof value === 'function' ? value.bind(target) : value;
      return async (changes: readonly unknown[]) => {
        calls += 1;
        // A short play has four commits.
        if (calls % 5 === 2) throw new Error(`disk full while writing ${JSON.stringify(changes)}`);
        return (value as (all: readonly unknown[]) => unknown).call(target, changes);
      };
    },
  });
}

async function logOf(script: string, fails: boolean): Promise<{ log: string; words: readonly string[] }> {
  let log = '';
  const words = new Set<string>();
  const player = new Player({
    content,
    registry,
    countSegments,
    log: jsonLog(
      (line) => {
        log += line;
      },
      'debug',
      () => 0,
    ),
    open: async (dueAtOf) => {
      const file = join(folder, `${script}-${fails}.db`);
      const store = await openStore({
        url: `sqlite:${file}`,
        keys: openKeyRing(`${file}.key`),
        dueAtOf,
        exclusive: false,
      });
      return fails ? failing(store) : store;
    },
    emit: (played) => {
      if (played.kind !== 'message') return;
      words.add(played.message.text);
      if (played.message.case !== null) words.add(played.message.case);
    },
  });
  try {
    for (const line of readFileSync(new URL(script, plays), 'utf8').split('\n')) {
      const read = readLine(line);
      if (read.kind === 'phone') {
        words.add(read.address);
        words.add(read.address.replace(/\D/g, ''));
      }
      await player.play(read).catch(() => undefined);
    }
  } finally {
    await player.close();
  }
  return { log, words: [...words].filter((one) => one.length > 3) };
}

describe('the log of a whole play', () => {
  it.each(scripts.map((name, place) => [name, place % 3 === 0] as const))(
    '%s (a failing disk: %s) holds no text, no number, no code of a case and no initials',
    async (script, fails) => {
      const { log, words } = await logOf(script, fails);
      expect(words.length).toBeGreaterThan(2);
      if (fails) expect(log).toContain('commit-failed');
      for (const word of words) expect(log).not.toContain(word);
      expect(log).not.toMatch(/\bAK\b|1982|danger|Thy\d|000555/);
    },
  );
});
