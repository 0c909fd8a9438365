/** Plays a conversation script while others do what they like in between. What the script expects is not asked for. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine, type ScriptLine } from '../../src/channels/play/script.ts';
import { Player } from '../../src/cli/player.ts';
import { registry as shippedRegistry } from '../../src/conversation/matters.ts';
import type { Registry } from '../../src/conversation/moment.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import { chanceOf } from '../simulation/chance.ts';
import { Ledger } from '../support/claims/ledger.ts';
import { shipped } from '../support/shipped.ts';
import { Others } from './acts.ts';

/** Colleagues who are there besides, most of the time. */
const besides = [
  'phone w9 +000555019001 role=worker',
  'phone l9 +000555019002 role=lab',
  'phone c9 +000555019003 role=coordinator',
] as const;

/** After the script, until all that was begun has been woken. */
const lastActs = 12;

/** An empty name, side or reason; a value that is none. */
export const hole = /undefined|NaN| {2}| [,;]|\( |: \.|: ,/u;

/** Everything that went wrong: texts set aside, texts that were not so, texts with a hole. The same seed, the same play. */
export async function playInterrupted(
  lines: readonly string[],
  seed: number,
  registry: Registry = shippedRegistry,
): Promise<readonly string[]> {
  const chance = chanceOf(seed);
  const others = new Others(chance);
  const folder = mkdtempSync(join(tmpdir(), 'neckline-interrupted-'));
  const file = join(folder, 'play.db');
  const keys = openKeyRing(`${file}.key`);
  const ledger = new Ledger();
  const wrong = new Set<string>();
  const player = new Player({
    content: shipped,
    registry,
    countSegments,
    log: {
      write: (level, event, fields) => void (level === 'error' && wrong.add(`${event} ${JSON.stringify(fields)}`)),
    },
    open: async (dueAtOf) => ledger.watch(await openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false })),
    emit: (played) => {
      if (played.kind !== 'message') return;
      others.hear(played.message);
      const { dir, text } = played.message;
      // A text of the script whose code was not captured is said back as it came.
      if (dir === 'out' && hole.test(text) && !text.includes('{')) wrong.add(`hole: ${text}`);
    },
  });
  const meet = (line: ScriptLine): void => {
    if (line.kind === 'phone') others.know(line.name, line.roles[0]!);
  };
  const act = async (): Promise<void> => player.play(readLine(others.line()));
  try {
    const script = lines.map(readLine);
    const rate = 0.03 + 0.12 * (chance.below(100) / 100);
    const extra = besides.filter(() => chance.happens(0.6)).map(readLine);
    const lastPhone = script.findLastIndex(({ kind }) => kind === 'phone');
    for (const [index, line] of script.entries()) {
      if (line.kind === 'send' && chance.happens(rate)) for (let n = chance.below(4); n >= 0; n -= 1) await act();
      meet(line);
      await player.play(line);
      if (index !== lastPhone) continue;
      for (const one of extra) {
        meet(one);
        await player.play(one);
      }
    }
    for (let n = 0; n < lastActs; n += 1) await act();
    await player.close();
    ledger.settle();
    return [...wrong, ...ledger.untrue.map(({ line }) => line)];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
