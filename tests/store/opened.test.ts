import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readLine } from '../../src/channels/play/script.ts';
import { Player } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import { keyRingOf } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { type Opened, openOnce } from '../../src/store/opened.ts';
import { recent } from '../../src/store/recent.ts';
import { sealJson } from '../../src/store/seal.ts';
import { countSegments } from '../../src/text/segments.ts';
import { shipped } from '../support/shipped.ts';

const key = Buffer.alloc(32, 1);
const sealed = sealJson(key, { tag: 'AK' }, 'fold:c1:1');

describe('what was opened', () => {
  it('is given again for the very same bytes in the same place, without being opened', () => {
    const kept = recent<string, Opened<{ tag: string }>>(10);
    const first = openOnce(kept, 'c1', key, sealed, 'fold:c1:1');
    expect(first).toEqual({ tag: 'AK' });
    const noKey = Buffer.alloc(32);
    expect(openOnce(kept, 'c1', noKey, Buffer.from(sealed), 'fold:c1:1')).toBe(first);
  });

  it('is not given for bytes that were changed, nor for the same bytes in another place', () => {
    const kept = recent<string, Opened<{ tag: string }>>(10);
    openOnce(kept, 'c1', key, sealed, 'fold:c1:1');
    const damaged = Buffer.from(sealed);
    damaged[damaged.length - 1]! ^= 1;
    expect(() => openOnce(kept, 'c1', key, damaged, 'fold:c1:1')).toThrow('unreadable');
    expect(() => openOnce(kept, 'c1', key, sealed, 'fold:c1:2')).toThrow('unreadable');
  });
});

function frozen<Value>(value: Value): Value {
  if (value === null || typeof value !== 'object' || Object.isFrozen(value)) return value;
  for (const inner of Object.values(value)) frozen(inner);
  return Object.freeze(value);
}

/** Courses with answers put right, alarms, doctors' questions, results, timers and a case that is joined. */
const courses = [
  'thy4',
  'sos-repeated',
  'doctor-promise',
  'here-again-under-new-entry',
  'wrong-tag',
  'slides-counted-again',
];

it.each(courses)('no step changes what it was given, as the next one is given the same: %s', async (course) => {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-frozen-'));
  const failures: string[] = [];
  const player = new Player({
    content: shipped,
    registry,
    log: { write: (level, event) => void (level === 'error' && failures.push(event)) },
    countSegments,
    open: async (dueAtOf) => {
      const store = await openStore({
        url: `sqlite:${join(folder, 'line.db')}`,
        keys: keyRingOf(Buffer.alloc(32, 3)),
        dueAtOf,
        exclusive: false,
      });
      return {
        ...store,
        load: async (events, flows) => frozen(await store.load(events, flows)),
        commit: (changes) => store.commit(frozen(changes)),
      };
    },
    emit: (played) => {
      if (played.kind !== 'message') failures.push(JSON.stringify(played));
    },
  });
  const script = readFileSync(join(import.meta.dirname, '..', 'conversations', `${course}.play`), 'utf8');
  for (const line of script.split('\n')) await player.play(readLine(line));
  await player.close();
  rmSync(folder, { recursive: true, force: true });
  expect(failures).toEqual([]);
});
