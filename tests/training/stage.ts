/** A scenario on the real line, in process, with a clock that goes only where it is sent. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { castOf } from '../../src/channels/bench/training/cast.ts';
import { Rehearsal } from '../../src/channels/bench/training/rehearsal.ts';
import { demoRosterOf } from '../../src/cli/demo-roster.ts';
import { seededRandom } from '../../src/cli/player.ts';
import { readRoster } from '../../src/cli/roster-file.ts';
import type { Content } from '../../src/content/load.ts';
import { loadTraining } from '../../src/content/scenarios.ts';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { registry } from '../../src/conversation/matters.ts';
import { Line } from '../../src/line/line.ts';
import type { OutboundMessage } from '../../src/line/ports.ts';
import { openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import type { Report } from '../../src/training/report.ts';

/** Monday, 9:00 in Nairobi. */
const startsAt = Date.parse('2030-03-04T06:00:00Z');
/** A way that takes longer is stuck. */
const longestMs = 60 * 86_400_000;
const minuteMs = 60_000;

/** What the learner does instead of the right answer: another text, and perhaps no more after it; or the right one, minutes late. */
export type Instead =
  | string
  | { readonly lastly: string }
  | { readonly waits: number; readonly lastly?: true; readonly unheard?: true };

export type Stage = Awaited<ReturnType<typeof openStage>>;

/** `locale`: of everybody who plays. */
export async function openStage(content: Content, id: string, locale = 'en') {
  const training = loadTraining(content);
  const scenario = training.scenarios.find((one) => one.id === id);
  if (!scenario) throw new Error(`no scenario ${id}`);
  const folder = mkdtempSync(join(tmpdir(), 'neckline-training-'));
  const store = await openStore({
    url: `sqlite:${join(folder, 'neckline.db')}`,
    keys: openKeyRing(join(folder, 'neckline.key')),
    dueAtOf: (of) => dueAtOf(content.programme, of),
  });
  const { people, faults } = readRoster(demoRosterOf(content.programme, locale), content, [], true);
  if (faults.length > 0) throw new Error(JSON.stringify(faults));
  await store.putPeople(people);
  let now = startsAt;
  let sent = 0;
  const heard: OutboundMessage[] = [];
  const cast = castOf(await store.roster(content.programme.id), content.programme, 'bench', scenario.you);
  const rehearsal = new Rehearsal({ scenario, comments: training.comments, cast, texts: content.texts, now });
  const line = new Line({
    store,
    content,
    registry,
    clock: { now: () => now },
    random: seededRandom(7),
    log: { write: () => undefined },
    channels: new Map([
      [
        'bench',
        {
          name: 'bench',
          maxText: 0,
          buttons: false,
          images: false,
          reports: false,
          send: async (message: OutboundMessage) => {
            heard.push(message);
            rehearsal.told(message);
            return { kind: 'sent' as const };
          },
        },
      ],
    ]),
  });
  const send = async (address: string, text: string): Promise<void> => {
    sent += 1;
    now += 1000;
    const at = now;
    await line.hearText({ channel: 'bench', address }, `stage:${sent}`, text, at);
    rehearsal.sent(address, text, at);
  };

  return {
    rehearsal,
    heard,
    /** What the learner's phone got last. */
    last: (): string => heard.findLast(({ to }) => to.address === cast.players[scenario.you]!.address)?.text ?? '',
    /** Plays on: the right way, but at the named places (`step`, `step 2`) something else. */
    play: async (instead: Readonly<Record<string, Instead>> = {}): Promise<Report> => {
      const times = new Map<string, number>();
      const until = now + longestMs;
      let turn = 0;
      while (!rehearsal.report) {
        turn += 1;
        const due = await line.settle();
        const other = rehearsal.others(now)[0];
        const next = rehearsal.nextOf(now);
        if (next) {
          const at = rehearsal.openStep()!;
          const time = (times.get(at) ?? 0) + 1;
          times.set(at, time);
          const otherwise = instead[time === 1 ? at : `${at} ${time}`];
          if (typeof otherwise === 'string') await send(next.player.address, otherwise);
          else if (otherwise && !('waits' in otherwise)) {
            await send(next.player.address, otherwise.lastly);
            break;
          } else {
            for (const end = now + (otherwise?.waits ?? 0) * minuteMs; now < end; ) {
              const coming = await line.settle();
              now = Math.min(end, coming === null ? end : Math.max(coming, now + 1));
            }
            await line.settle();
            // The line went on without an answer.
            if (otherwise?.unheard) continue;
            await send(next.player.address, rehearsal.nextOf(now)?.text ?? next.text);
            if (otherwise?.lastly) break;
          }
          continue;
        }
        if (other && other.at <= now) {
          await send(other.player.address, other.text);
          continue;
        }
        const coming = [due, other?.at ?? null].filter((one): one is number => one !== null);
        if (coming.length === 0 || Math.min(...coming) > until || turn > 2000) break;
        now = Math.max(now + 1, Math.min(...coming));
      }
      return rehearsal.end(now);
    },
    close: async (): Promise<void> => {
      await line.idle();
      await store.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
