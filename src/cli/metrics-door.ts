/** GET /metrics: the figures for a collector of this machine, or for one elsewhere that shows the token of the settings. */
import { type Door, isLoopback, tooMany } from '../channels/http.ts';
import { isSecret } from '../channels/sms/secrets.ts';
import { WrongSecrets } from '../channels/wrong-secrets.ts';
import type { Log, Steady } from '../line/ports.ts';
import { expositionType } from '../observe/exposition.ts';

export interface MetricsDoorParts {
  /** The figures as text; rejects when the store does. */
  readonly metrics: () => Promise<string>;
  /** What a collector elsewhere shows as `Authorization: Bearer`; null = none is let in. */
  readonly token: string | null;
  readonly steady: Steady;
  readonly log: Log;
}

/** Without a token, and for whoever shows none, it is not there: 404. A wrong one is 403, too many are 429. */
export function metricsDoor({ metrics, token, steady, log }: MetricsDoorParts): Door {
  const wrong = new WrongSecrets({ now: steady, log, channel: 'metrics' });
  return async (request, response) => {
    if ((request.url ?? '/').split('?')[0] !== '/metrics' || request.method !== 'GET') return false;
    if (!isLoopback(request)) {
      const shown = /^Bearer (\S+)$/i.exec(request.headers.authorization ?? '')?.[1] ?? null;
      if (token === null || shown === null) return false;
      if (!isSecret(shown, [token])) {
        response.writeHead(wrong.note(request) ? tooMany : 403, { 'content-length': '0' }).end();
        return true;
      }
    }
    const text = await metrics();
    response.writeHead(200, { 'content-type': expositionType, 'cache-control': 'no-store' }).end(text);
    return true;
  };
}
