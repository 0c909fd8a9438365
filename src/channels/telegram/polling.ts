/** Asks Telegram for updates, one long request after another, and confirms only what the line has stored. */
import type { Api } from 'grammy';
import { backoffMs } from '../../line/backoff.ts';
import type { Log } from '../../line/ports.ts';
import { type Fault, faultOf } from './api.ts';
import type { Take } from './intake.ts';
import { allowedUpdates, callsForHelp, senderOf, updateIdOf } from './update.ts';

export interface PollingParts {
  readonly api: Api;
  readonly take: Take;
  readonly log: Log;
  /** How long one request waits for updates, s. */
  readonly waitSeconds: number;
  /** Called with each answer, and with each fault: whether anything can come in. */
  readonly hears: (well: boolean) => void;
  /** First pause after a fault, ms; doubled for each further one, up to thirty times. */
  readonly pauseMs: number;
}

/** Updates asked for at a time. */
const atMost = 100;
const longestPause = 30;
/** Another process polls with the same token: pauses of this many times the first one. */
const conflictPause = 5;

/** Two processes cannot share a token's updates, and Telegram gives up no text: it waits, and so do we. */
export interface Polling {
  /** Ends after what is in hand. */
  stop(): Promise<void>;
}

/** Starts asking. Ends by itself only when Telegram does not know the token. */
export function startPolling(parts: PollingParts): Polling {
  const ending = new AbortController();
  const signal = ending.signal as NonNullable<Parameters<Api['getUpdates']>[1]>;
  let offset: number | undefined;
  let failures = 0;

  const round = async (ready: boolean): Promise<void> => {
    // A webhook set before would take the updates; what waits there is kept.
    if (!ready) await parts.api.deleteWebhook({ drop_pending_updates: false }, signal);
    const asked = { timeout: parts.waitSeconds, limit: atMost, allowed_updates: allowedUpdates };
    const updates: unknown = await parts.api.getUpdates(offset === undefined ? asked : { ...asked, offset }, signal);
    if (!Array.isArray(updates)) throw new Error('no list of updates');
    failures = 0;
    parts.hears(true);
    // Numbers can begin anew after a quiet week: once all is confirmed, whatever comes first is taken.
    const open = await takeAll(parts.take, updates);
    offset = open ?? nextOffset(updates);
    if (open === null) return;
    parts.log.write('error', 'telegram-update-not-stored', { count: updates.length });
    await sleep(parts.pauseMs * 3, ending.signal);
  };

  const run = async (): Promise<void> => {
    let ready = false;
    while (!ending.signal.aborted) {
      try {
        await round(ready);
        ready = true;
      } catch (error) {
        if (ending.signal.aborted) return;
        const fault = faultOf(error);
        // With a conflict another process hears them.
        if (fault.kind !== 'conflict') parts.hears(false);
        if (fault.kind === 'token') {
          parts.log.write('error', 'telegram-stopped', { code: 'unknown-token-see-NECKLINE_TELEGRAM_TOKEN' });
          return;
        }
        failures += 1;
        // A webhook may have been set meanwhile.
        if (fault.kind === 'conflict') ready = false;
        if (failures === 1 || fault.kind === 'conflict') {
          parts.log.write('warn', 'telegram-polling-waits', { code: fault.kind, tries: failures });
        }
        await sleep(pauseAfter(fault, failures, parts.pauseMs), ending.signal);
      }
    }
  };
  const running = run();

  return {
    stop: async () => {
      ending.abort();
      await running;
    },
  };
}

function pauseAfter(fault: Fault, failures: number, pauseMs: number): number {
  if (fault.kind === 'flood') return fault.waitMs;
  if (fault.kind === 'conflict') return pauseMs * conflictPause;
  return backoffMs(failures, pauseMs, pauseMs * longestPause);
}

/**
 * Takes a batch, calls for help before everything else. Null: all are stored; else the number of the first one that is
 * not. Nothing of a person is taken after something of theirs that was not stored.
 */
async function takeAll(take: Take, updates: readonly unknown[]): Promise<number | null> {
  const urgent = updates.filter(callsForHelp);
  const failed = await takeEach(take, urgent);
  const waiting = new Set(failed.map(senderOf));
  const others = updates.filter((one) => !urgent.includes(one) && !waiting.has(senderOf(one)));
  const open = [...failed, ...(await takeEach(take, others))];
  // Of whom something waits, all that was left out comes again with it.
  const left = updates.filter((one) => waiting.has(senderOf(one)) && !urgent.includes(one));
  const numbers = [...open, ...left].map(updateIdOf).filter((one) => one !== null);
  return numbers.length === 0 ? null : Math.min(...numbers);
}

/** One person's updates one after the other, those of different people together. Gives each person's first that is not stored. */
async function takeEach(take: Take, updates: readonly unknown[]): Promise<readonly unknown[]> {
  const groups = new Map<string, unknown[]>();
  for (const update of updates) {
    const sender = senderOf(update) ?? '';
    groups.set(sender, [...(groups.get(sender) ?? []), update]);
  }
  const open = await Promise.all(
    [...groups.values()].map(async (group) => {
      for (const update of group) {
        if (!(await take(update))) return [update];
      }
      return [];
    }),
  );
  return open.flat();
}

function nextOffset(updates: readonly unknown[]): number | undefined {
  const numbers = updates.map(updateIdOf).filter((one) => one !== null);
  return numbers.length === 0 ? undefined : Math.max(...numbers) + 1;
}

function sleep(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve();
    const timer = setTimeout(done, ms);
    function done(): void {
      clearTimeout(timer);
      signal.removeEventListener('abort', done);
      resolve();
    }
    signal.addEventListener('abort', done);
  });
}
