/** Telegram as the settings describe it. */
import { openTelegram, type Telegram, telegramFaults } from '../channels/telegram/telegram.ts';
import type { Settings } from '../config.ts';
import type { Content } from '../content/load.ts';
import type { Log, Steady } from '../line/ports.ts';
import { Refused } from './open-line.ts';

/** `Refused`, with a line for each fault, when the settings of Telegram cannot work. */
export function refuseTelegram(settings: Settings): void {
  const token = settings.NECKLINE_TELEGRAM_TOKEN;
  const { NECKLINE_TELEGRAM_WEBHOOK_URL: webhookUrl, NECKLINE_TELEGRAM_SECRET: secret } = settings;
  const faults = token === undefined ? [] : telegramFaults({ token, webhookUrl, secret });
  if (faults.length > 0) throw new Refused(faults.join('\n'));
}

/** Null when no token is set; refuses as `refuseTelegram`. */
export function telegramLink(settings: Settings, content: Content, steady: Steady, log: Log): Telegram | null {
  const token = settings.NECKLINE_TELEGRAM_TOKEN;
  const { NECKLINE_TELEGRAM_WEBHOOK_URL: webhookUrl, NECKLINE_TELEGRAM_SECRET: secret } = settings;
  if (token === undefined) return null;
  refuseTelegram(settings);
  const apiRoot = settings.NECKLINE_TELEGRAM_API_ROOT;
  const locales = content.sources.locales.map((one) => one.tag);
  return openTelegram({ token, apiRoot, webhookUrl, secret, texts: content.texts, locales, steady, log });
}
