/** Telegram as one piece: the channel for what goes out, and the way in, by polling or by webhook. */

import { createHmac } from 'node:crypto';
import type { Texts } from '../../conversation/texts.ts';
import type { Log, Steady } from '../../line/ports.ts';
import type { Door } from '../http.ts';
import { WrongSecrets } from '../wrong-secrets.ts';
import { openApi } from './api.ts';
import { TelegramChannel } from './channel.ts';
import { type Ear, intakeOf, type Take } from './intake.ts';
import { putMenus } from './menu.ts';
import { type Polling, startPolling } from './polling.ts';
import { type Registering, registerWebhook, webhookDoor } from './webhook.ts';

export interface TelegramOptions {
  readonly token: string;
  /** Another Bot API server than Telegram's own. */
  readonly apiRoot?: string | undefined;
  /** Public https address; none = polling. */
  readonly webhookUrl?: string | undefined;
  /** What Telegram shows at the webhook; none = made from the token. */
  readonly secret?: string | undefined;
  readonly texts: Texts;
  /** Languages of the line, for the menu. */
  readonly locales: readonly string[];
  readonly steady: Steady;
  readonly log: Log;
  /** How long a request for updates waits, s; a call may take, s; first pause after a fault, ms. */
  readonly pollSeconds?: number;
  readonly callSeconds?: number;
  readonly pauseMs?: number;
}

/** A running connection to Telegram. */
export interface Telegram {
  readonly channel: TelegramChannel;
  /** Takes the calls at the path of the webhook's address; null when polling. */
  readonly door: Door | null;
  /** Begins to take updates in. `nudge`: called when something was stored, so that its reply goes out at once. */
  listen(line: Ear, nudge?: () => void): void;
  /** Takes nothing more in; resolves when what was in hand is stored. */
  stop(): Promise<void>;
}

const usual = { pollSeconds: 50, callSeconds: 10, pauseMs: 1_000 } as const;
/** A request for updates is cut so long after its own waiting time, s. */
const pollGraceSeconds = 15;

/** What is wrong with these settings, a line each; none may hold a value. */
export function telegramFaults(of: Pick<TelegramOptions, 'token' | 'webhookUrl' | 'secret'>): readonly string[] {
  return [
    ...(/^\d+:[\w-]+$/.test(of.token) ? [] : ['NECKLINE_TELEGRAM_TOKEN: expected a number, a colon and letters']),
    ...(of.secret === undefined || /^[\w-]{1,256}$/.test(of.secret)
      ? []
      : ['NECKLINE_TELEGRAM_SECRET: expected letters, digits, _ and - only']),
  ];
}

/**
 * Makes the channel. The line is built with it, and then `listen` lets updates in. Nothing is asked of Telegram before.
 */
export function openTelegram(options: TelegramOptions): Telegram {
  const { token, apiRoot, webhookUrl, log, steady, texts } = options;
  const { pollSeconds, callSeconds, pauseMs } = { ...usual, ...withoutNothing(options) };
  const calls = openApi(token, apiRoot, callSeconds);
  /** Since when (steady) every request for updates failed; null = the last one was answered. */
  let deafSince: number | null = null;
  const hears = (well: boolean): void => {
    deafSince = well ? null : (deafSince ?? steady());
  };
  const deafMs = (): number | null => (deafSince === null ? null : steady() - deafSince);
  const channel = new TelegramChannel({ api: calls, steady, log, deafMs });
  const secret = options.secret ?? createHmac('sha256', token).update('webhook').digest('base64url');
  const path = webhookUrl === undefined ? null : new URL(webhookUrl).pathname;
  const wrong = new WrongSecrets({ now: steady, log, channel: 'telegram' });
  let take: Take | null = null;
  let polling: Polling | null = null;
  let registering: Registering | null = null;
  const inHand = new Set<Promise<unknown>>();
  const counted = (of: Take): Take => {
    return (update) => {
      const taken = of(update);
      inHand.add(taken);
      return taken.finally(() => inHand.delete(taken));
    };
  };

  return {
    channel,
    door: path === null ? null : webhookDoor({ path, secret, wrong, log, take: () => take }),
    listen: (line, nudge = () => undefined) => {
      take = counted(intakeOf({ api: calls, bot: token.split(':')[0]!, line, nudge, log }));
      if (webhookUrl === undefined) {
        const api = openApi(token, apiRoot, pollSeconds + pollGraceSeconds);
        polling = startPolling({ api, take, log, hears, waitSeconds: pollSeconds, pauseMs });
      } else {
        registering = registerWebhook(calls, webhookUrl, secret, log, pauseMs);
      }
      void putMenus(calls, texts, options.locales, log);
    },
    stop: async () => {
      take = null;
      registering?.stop();
      await polling?.stop();
      await Promise.all([...inHand]);
    },
  };
}

function withoutNothing(options: TelegramOptions): Partial<Record<keyof typeof usual, number>> {
  const { pollSeconds, callSeconds, pauseMs } = options;
  return {
    ...(pollSeconds === undefined ? {} : { pollSeconds }),
    ...(callSeconds === undefined ? {} : { callSeconds }),
    ...(pauseMs === undefined ? {} : { pauseMs }),
  };
}
