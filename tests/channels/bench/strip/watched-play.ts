/** A play whose strips are read after every line, and at every instant at which one of them says that the line acts. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Duty, dutyOf } from '../../../../src/case/duty.ts';
import { caseStrip } from '../../../../src/channels/bench/strip/case-strip.ts';
import { type Forecast, forecastOf, type Matter } from '../../../../src/channels/bench/strip/forecast.ts';
import { mattersOf } from '../../../../src/channels/bench/strip/matters.ts';
import type { Place } from '../../../../src/channels/bench/strip/people-of.ts';
import type { CaseStrip } from '../../../../src/channels/bench/strip/strip.ts';
import { readLine } from '../../../../src/channels/play/script.ts';
import { type PlayedMessage, Player } from '../../../../src/cli/player.ts';
import { dutyTimes } from '../../../../src/conversation/duties.ts';
import { registry } from '../../../../src/conversation/matters.ts';
import { openKeyRing } from '../../../../src/store/keys.ts';
import { openStore } from '../../../../src/store/open.ts';
import { countSegments } from '../../../../src/text/segments.ts';
import { shipped } from '../../../support/shipped.ts';
import { say } from './english.ts';

const { programme, flows } = shipped;

/** A case as it was looked at. */
export interface Look {
  readonly now: number;
  readonly matter: Matter;
  readonly place: Place;
  readonly strip: CaseStrip;
  /** Null for a closed case. */
  readonly duty: Duty | null;
  readonly forecast: Forecast | null;
}

/** What was so when a strip's instant had come, and nobody had done anything. */
export interface Came {
  readonly before: Look;
  readonly after: Look;
  /** Texts that reached a phone at that instant. */
  readonly texts: readonly PlayedMessage[];
  /** Numbers of the script's phones, by their names. */
  readonly numbers: ReadonlyMap<string, string>;
}

/** Plays a script; `looked` is told of every look, `came` of every instant that a strip had named. */
export async function playWatched(
  script: string,
  looked: (look: Look) => void,
  came: (what: Came) => void = () => undefined,
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'neckline-strips-'));
  const file = join(folder, 'play.db');
  const keys = openKeyRing(`${file}.key`);
  const messages: PlayedMessage[] = [];
  const numbers = new Map<string, string>();
  const player = new Player({
    content: shipped,
    registry,
    log: { write: () => undefined },
    countSegments,
    open: (dueAtOf) => openStore({ url: `sqlite:${file}`, keys, dueAtOf, exclusive: false }),
    emit: (played) => void (played.kind === 'message' && messages.push(played.message)),
  });
  const lookNow = async (): Promise<readonly Look[]> => {
    const store = await player.store();
    const now = player.now;
    const place = { programme, roster: await store.roster(programme.id) };
    const matters = await mattersOf({ store, content: { programme, flows } }, now);
    const looks = matters.map((matter) => lookAt(matter, place, now));
    looks.forEach(looked);
    return looks;
  };
  try {
    for (const raw of readFileSync(script, 'utf8').split('\n')) {
      const line = readLine(raw);
      if (line.kind === 'nothing' || line.kind === 'expect') {
        await player.play(line);
        continue;
      }
      if (line.kind === 'phone') numbers.set(line.name, line.address);
      if (line.kind !== 'wait') {
        await player.play(line);
        if (line.kind !== 'at' && line.kind !== 'seed' && line.kind !== 'phone') await lookNow();
        continue;
      }
      const end = player.now + line.ms;
      let looks = await lookNow();
      while (player.now < end) {
        const named = looks.flatMap((one) =>
          one.strip.until !== null && one.strip.until > player.now ? one.strip.until : [],
        );
        const next = Math.min(end, ...named);
        const heard = messages.length;
        await player.play({ kind: 'wait', ms: next - player.now });
        const after = await lookNow();
        const at = new Date(next).toISOString();
        const texts = messages.slice(heard).filter((one) => one.dir === 'out' && one.at === at);
        for (const before of looks.filter((one) => one.strip.until === next)) {
          const same = after.find((one) => one.strip.caseId === before.strip.caseId);
          if (same) came({ before, after: same, texts, numbers });
        }
        looks = after;
      }
    }
  } finally {
    await player.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

function lookAt(matter: Matter, place: Place, now: number): Look {
  const { of } = matter;
  const strip = caseStrip(matter, place, now, say);
  const duty = dutyTimes(programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
  return { now, matter, place, strip, duty, forecast: duty && forecastOf(matter, duty, place, now) };
}
