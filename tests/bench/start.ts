/** From the start of the process to the first page served: against an empty process, and with many people stored. */
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadContent, packageRoot } from '../../src/content/load.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { change, person, stateOn, timer } from '../contract/store-samples.ts';
import { freePort } from '../support/free-port.ts';
import { residentOf } from './resident.ts';

const atOnce = 1_000;
const dayMs = 86_400_000;

export interface Start {
  readonly readyMs: number;
  /** Resident megabytes once ready; null where the system does not say. */
  readonly megabytes: number | null;
}

export interface Starts {
  /** People with an open conversation and a timer each, in `withMany`. */
  readonly people: number;
  readonly emptyNode: Start;
  readonly plain: Start;
  readonly withMany: Start;
}

/** Takes turns, so that a machine that slows down slows all; gives the median of each. */
export async function measureStarts(people: number, rounds: number, warmRounds: number): Promise<Starts> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-bench-'));
  try {
    const [few, many] = [join(folder, 'few'), join(folder, 'many')];
    await fill(many, people);
    const kept: Record<Exclude<keyof Starts, 'people'>, Start[]> = { emptyNode: [], plain: [], withMany: [] };
    for (let round = -warmRounds; round < rounds; round += 1) {
      const now = { emptyNode: await emptyNode(), plain: await lineIn(few), withMany: await lineIn(many) };
      if (round < 0) continue;
      for (const name of ['emptyNode', 'plain', 'withMany'] as const) kept[name].push(now[name]);
    }
    return { people, emptyNode: median(kept.emptyNode), plain: median(kept.plain), withMany: median(kept.withMany) };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function median(list: readonly Start[]): Start {
  return [...list].sort((a, b) => a.readyMs - b.readyMs)[Math.floor(list.length / 2)]!;
}

async function fill(data: string, people: number): Promise<void> {
  mkdirSync(data);
  const keys = openKeyRing(join(data, 'neckline.key'));
  const store = await openStore({ url: `sqlite:${join(data, 'neckline.db')}`, keys });
  const { programme } = loadContent();
  const programmeId = programme.id;
  const siteId = programme.sites[0]!.id;
  const now = Date.now();
  for (let from = 0; from < people; from += atOnce) {
    const ids = Array.from({ length: Math.min(atOnce, people - from) }, (_, index) => `w${from + index}`);
    await store.putPeople(
      // People of the bench: it starts on no others.
      ids.map((id) => person(id, { programmeId, siteId, addresses: [{ channel: 'bench', address: `bench:${id}` }] })),
    );
    const outcomes = await store.commit(
      ids.map((id) =>
        change(`e:${id}`, {
          programmeId,
          conversation: { personId: id, state: stateOn(null, `e:${id}:0`), version: null },
          due: [timer(`e:${id}:d`, id, now + dayMs, { programmeId })],
        }),
      ),
    );
    if (outcomes.some((one) => one !== 'committed')) throw new Error('a change was not committed');
  }
  await store.close();
}

function emptyNode(): Promise<Start> {
  const begun = performance.now();
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ['--eval', '0'], { stdio: 'ignore' });
    child.on('exit', () => resolve({ readyMs: performance.now() - begun, megabytes: null }));
  });
}

async function lineIn(data: string): Promise<Start> {
  const port = await freePort();
  const env = { PATH: process.env.PATH, NECKLINE_DATA: data, NECKLINE_BENCH_PORT: String(port) };
  const begun = performance.now();
  const child = spawn(process.execPath, [join(packageRoot, 'dist/main.js'), 'start'], {
    env,
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise((resolve) => child.on('exit', resolve));
  try {
    await new Promise<void>((resolve, reject) => {
      child.stdout.on('data', (printed) => /http:/.test(String(printed)) && resolve());
      child.on('exit', () => reject(new Error('the line did not start')));
    });
    const page = await fetch(`http://127.0.0.1:${port}/`);
    await page.text();
    return { readyMs: performance.now() - begun, megabytes: residentOf(child.pid!) };
  } finally {
    child.kill('SIGTERM');
    await ended;
  }
}
