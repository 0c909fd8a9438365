import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine } from '../../src/channels/play/script.ts';
import { Player } from '../../src/cli/player.ts';
import { registry } from '../../src/conversation/matters.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { countSegments } from '../../src/text/segments.ts';
import type { AskedPairs } from '../support/asked-after.ts';
import { Ledger } from '../support/claims/ledger.ts';
import { shipped } from '../support/shipped.ts';
import { type Probed, probe } from './probe.ts';

export interface PlayProbed {
  /** Expectations that were not met, lines that cannot be read, and errors that the line logged. */
  readonly failures: readonly string[];
  /** Texts that claimed what was not so. */
  readonly untrue: readonly string[];
  readonly probed: Probed;
}

/** Plays a script with the shipped content, then sends an SOS for everybody of its roster. */
export async function playProbed(script: string, asked?: AskedPairs, met?: Set<string>): Promise<PlayProbed> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-probed-'));
  const file = join(folder, 'play.db');
  const keys = openKeyRing(`${file}.key`);
  const failures: string[] = [];
  const ledger = new Ledger();
  const player = new Player({
    content: shipped,
    registry,
    log: { write: (level, event) => void (level === 'error' && failures.push(`logged ${event}`)) },
    countSegments,
    open: async (dueAtOf) => ledger.watch(await openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false })),
    emit: (played) => {
      if (played.kind === 'message') asked?.hear(played.message);
      if (played.kind === 'failed') failures.push(`line ${played.line}: ${played.failed}`);
      if (played.kind === 'error') failures.push(`line ${played.line}: expected ${played.expected}`);
    },
  });
  try {
    for (const line of readFileSync(script, 'utf8').split('\n')) await player.play(readLine(line));
    await player.close();
    ledger.settle();
    for (const key of ledger.met.keys()) met?.add(key);
    const untrue = ledger.untrue.map(({ line }) => line);
    return { failures, untrue, probed: await probe({ file, keys, content: shipped, at: player.now }) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
