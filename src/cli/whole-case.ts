/** What one whole case costs by SMS, in each language: played, not estimated. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readLine } from '../channels/play/script.ts';
import { type Content, packageRoot } from '../content/load.ts';
import { registry } from '../conversation/matters.ts';
import { openKeyRing } from '../store/keys.ts';
import { openStore } from '../store/open.ts';
import { countSegments, userDataOctets } from '../text/segments.ts';
import { type PlayedMessage, Player } from './player.ts';

/** One way of the texts between a person and the line. */
export interface Way {
  readonly segments: number;
  /** Of user data, as `userDataOctets` counts. */
  readonly octets: number;
}

/** What one person of the case sends and receives. */
export interface CaseCost {
  readonly locale: string;
  readonly who: string;
  readonly sends: Way;
  readonly receives: Way;
  readonly encoding: 'GSM-7' | 'UCS-2' | 'both';
}

const names: Readonly<Record<string, string>> = { w: 'worker', l: 'laboratory', d: 'doctor' };

/** Adds texts up, by phone; the CASE that only looks at the end is left out. */
export function costOfMessages(
  messages: readonly PlayedMessage[],
): ReadonlyMap<string, Omit<CaseCost, 'locale' | 'who'>> {
  const end = messages.findIndex((one) => one.dir === 'in' && one.text.startsWith('CASE'));
  const cost = new Map<string, Omit<CaseCost, 'locale' | 'who'>>();
  const nothing: Way = { segments: 0, octets: 0 };
  for (const { phone, dir, text, segments, encoding } of end < 0 ? messages : messages.slice(0, end)) {
    const before = cost.get(phone) ?? { sends: nothing, receives: nothing, encoding };
    const way = dir === 'in' ? 'sends' : 'receives';
    const sum = { segments: before[way].segments + segments, octets: before[way].octets + userDataOctets(text) };
    cost.set(phone, { ...before, [way]: sum, encoding: before.encoding === encoding ? encoding : 'both' });
  }
  return cost;
}

/** Plays the case once in each language of the package. Throws when it does not come to its end: that is a bug. */
export async function wholeCaseCosts(content: Content): Promise<readonly CaseCost[]> {
  const script = readFileSync(join(packageRoot, 'flows', 'whole-case.play'), 'utf8');
  const rows: CaseCost[] = [];
  for (const { tag } of content.sources.locales) {
    const cost = costOfMessages(await playIn(content, script, tag));
    for (const [phone, who] of Object.entries(names)) {
      const of = cost.get(phone);
      if (of) rows.push({ locale: tag, who, ...of });
    }
  }
  return rows;
}

async function playIn(content: Content, script: string, locale: string): Promise<readonly PlayedMessage[]> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-case-'));
  const file = join(folder, 'case.db');
  const messages: PlayedMessage[] = [];
  const player = new Player({
    content,
    registry,
    countSegments,
    log: { write: () => undefined },
    open: (dueAtOf) =>
      openStore({ url: `sqlite:${file}`, keys: openKeyRing(`${file}.key`), dueAtOf, exclusive: false }),
    emit: (played) => {
      if (played.kind === 'message') messages.push(played.message);
    },
  });
  try {
    for (const line of script.split('\n')) {
      await player.play(readLine(/^phone\b/.test(line) ? `${line} locale=${locale}` : line));
    }
  } finally {
    await player.close();
    rmSync(folder, { recursive: true, force: true });
  }
  if (player.exitCode !== 0) throw new Error(`the whole case does not play in ${locale}`);
  return messages;
}
