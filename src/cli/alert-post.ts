import type { Settings } from '../config.ts';
import type { Log, PostAlert } from '../line/ports.ts';
import { alertWebhook } from '../observe/alert-webhook.ts';

/** Brings alerts to the address of the settings; null where none is set. */
export function alertPost(settings: Settings, log: Log): PostAlert | null {
  const { NECKLINE_ALERT_URL: url, NECKLINE_ALERT_TOKEN: token } = settings;
  return url === undefined ? null : alertWebhook({ url, token: token ?? null, log });
}
