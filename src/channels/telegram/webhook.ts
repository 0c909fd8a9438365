/** Takes updates that Telegram posts: answered only once they are stored, else Telegram posts them again. */

import { createHash, timingSafeEqual } from 'node:crypto';
import type { Api } from 'grammy';
import { backoffMs } from '../../line/backoff.ts';
import type { Log } from '../../line/ports.ts';
import { errorCode } from '../../text/error-code.ts';
import { type Door, readBody, tooMany } from '../http.ts';
import type { WrongSecrets } from '../wrong-secrets.ts';
import { faultOf } from './api.ts';
import type { Take } from './intake.ts';
import { allowedUpdates } from './update.ts';

/** Largest update taken, bytes: a text of 4,096 characters with its formatting fits many times. */
const bodyAtMost = 256_000;

export interface WebhookParts {
  /** Path of the public address. */
  readonly path: string;
  /** What Telegram must show in its header. */
  readonly secret: string;
  /** Null before the line listens and after it ended: Telegram then tries again. */
  readonly take: () => Take | null;
  readonly wrong: WrongSecrets;
  readonly log: Log;
}

/** Takes the calls of its path: 405, 401 without the secret, 429 when that was often, 413, 400, 500 when not stored, 503 when not open, else 200. */
export function webhookDoor(parts: WebhookParts): Door {
  const expected = digest(parts.secret);
  return async (request, response) => {
    const end = (status: number): true => {
      if (!response.headersSent)
        response.writeHead(status, { 'content-length': '0', 'cache-control': 'no-store' }).end();
      return true;
    };
    if ((request.url ?? '').split('?')[0] !== parts.path) return false;
    try {
      parts.wrong.tell();
      if (request.method !== 'POST') return end(405);
      const shown = request.headers['x-telegram-bot-api-secret-token'];
      if (typeof shown !== 'string' || !timingSafeEqual(digest(shown), expected)) {
        return end(parts.wrong.note(request) ? tooMany : 401);
      }
      const { body, whole } = await readBody(request, bodyAtMost);
      if (!whole) return end(413);
      const update = parsed(body.toString('utf8'));
      if (update === undefined) return end(400);
      const take = parts.take();
      if (!take) return end(503);
      const stored = await take(update);
      if (!stored) parts.log.write('error', 'telegram-update-not-stored', { count: 1 });
      return end(stored ? 200 : 500);
    } catch (error) {
      parts.log.write('error', 'telegram-request-failed', { code: errorCode(error) });
      return end(500);
    }
  };
}

function digest(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}

function parsed(body: string): unknown {
  try {
    return JSON.parse(body);
  } catch {
    return undefined;
  }
}

export interface Registering {
  stop(): void;
}

/** Longest pause between two tries to register, ms. */
const longestPauseMs = 60_000;

/** Tells Telegram the address and the secret, again until it takes them. What waited there comes then. */
export function registerWebhook(api: Api, url: string, secret: string, log: Log, pauseMs: number): Registering {
  let timer: NodeJS.Timeout | null = null;
  let ended = false;
  const attempt = async (tries: number): Promise<void> => {
    try {
      await api.setWebhook(url, { secret_token: secret, allowed_updates: allowedUpdates, drop_pending_updates: false });
      log.write('info', 'telegram-webhook-set', { tries });
    } catch (error) {
      const fault = faultOf(error);
      if (fault.kind === 'token') {
        log.write('error', 'telegram-stopped', { code: 'unknown-token-see-NECKLINE_TELEGRAM_TOKEN' });
        return;
      }
      if (ended) return;
      const code = fault.kind === 'refused' ? 'refused-see-NECKLINE_TELEGRAM_WEBHOOK_URL' : fault.kind;
      log.write('warn', 'telegram-webhook-waits', { code, tries });
      const pause = fault.kind === 'flood' ? fault.waitMs : backoffMs(tries, pauseMs, longestPauseMs);
      timer = setTimeout(() => void attempt(tries + 1), pause);
    }
  };
  void attempt(1);
  return {
    stop: () => {
      ended = true;
      if (timer) clearTimeout(timer);
    },
  };
}
