/** Brings alerts to an address by POST: five fields of JSON, none of them about a patient. */
import type { Log, PostAlert } from '../line/ports.ts';

/** A receiver that takes longer took nothing, ms. */
const withinMs = 10_000;

export interface WebhookParts {
  readonly url: string;
  /** Shown as `Authorization: Bearer`; null = none. */
  readonly token: string | null;
  readonly log: Log;
}

/** Any answer of 200 to 299 counts as taken; a redirection does not: the token is shown to the named address only. */
export function alertWebhook({ url, token, log }: WebhookParts): PostAlert {
  return async ({ what, state, at, since, text }, ending) => {
    const body = JSON.stringify({
      at: new Date(at).toISOString(),
      what,
      state,
      since: new Date(since).toISOString(),
      text,
    });
    const headers = {
      'content-type': 'application/json',
      ...(token === null ? {} : { authorization: `Bearer ${token}` }),
    };
    const signal = AbortSignal.any([ending, AbortSignal.timeout(withinMs)]);
    try {
      const response = await fetch(url, { method: 'POST', headers, body, redirect: 'manual', signal });
      await response.body?.cancel();
      if (response.ok) return true;
      log.write('warn', 'alert-not-taken', { kind: what, code: response.status });
    } catch (thrown) {
      // The cause says why (ECONNREFUSED); the message would hold the address.
      const cause = (thrown as { cause?: { code?: unknown } }).cause?.code;
      const code = typeof cause === 'string' ? cause : thrown instanceof Error ? thrown.name : 'unknown';
      if (!ending.aborted) log.write('warn', 'alert-not-taken', { kind: what, code });
    }
    return false;
  };
}
