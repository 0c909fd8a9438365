/** The door to the Bot API, and what its faults mean. No fault leaves this file as it is: some name the bot's token. */

import { Api, GrammyError, HttpError } from 'grammy';
import { neverWentOut } from '../../line/network-fault.ts';

/** An answer that is no JSON: a proxy in between, or not the Bot API at all. */
class NoJson extends Error {
  readonly status: number;
  constructor(status: number) {
    super('no JSON');
    this.status = status;
  }
}

/**
 * Node's own fetch behind an abort signal of its own kind: grammY brings signals that newer Node versions refuse.
 * Throws `NoJson` where JSON was promised.
 */
async function nativeFetch(url: string | URL, init: Record<string, unknown> = {}): Promise<Response> {
  const { signal, agent: _agent, compress: _compress, ...rest } = init;
  const from = signal as AbortSignal | undefined;
  const own = new AbortController();
  if (from?.aborted) own.abort();
  else from?.addEventListener('abort', () => own.abort(), { once: true });
  const response = await fetch(url, { ...rest, signal: own.signal } as RequestInit);
  if (/\bjson\b/.test(response.headers.get('content-type') ?? '')) return response;
  await response.body?.cancel().catch(() => undefined);
  throw new NoJson(response.status);
}

/** Calls of the Bot API that are cut after `timeoutSeconds`. */
export function openApi(token: string, apiRoot: string | undefined, timeoutSeconds: number): Api {
  type Options = NonNullable<ConstructorParameters<typeof Api>[1]>;
  return new Api(token, {
    ...(apiRoot ? { apiRoot } : {}),
    timeoutSeconds,
    fetch: nativeFetch as unknown as NonNullable<Options['fetch']>,
  });
}

/** Why a call failed, as far as it decides what to do next. */
export type Fault =
  /** Too many calls: not before this many ms. */
  | { readonly kind: 'flood'; readonly waitMs: number }
  /** The token is none, or no longer. */
  | { readonly kind: 'token' }
  /** Another process polls with this token, or a webhook is set. */
  | { readonly kind: 'conflict' }
  /** This person cannot be written to. */
  | { readonly kind: 'unreachable'; readonly why: 'blocked' | 'no-chat' }
  | { readonly kind: 'refused'; readonly status: number }
  /** Telegram answered that it could not. */
  | { readonly kind: 'server'; readonly status: number }
  /** The request never left. */
  | { readonly kind: 'not-sent' }
  /** Asked, and no answer that can be read: it may have been done. */
  | { readonly kind: 'no-answer' };

/** Reads a fault of a call. What is not known counts as no answer: it may have been done. */
export function faultOf(error: unknown): Fault {
  if (error instanceof GrammyError) return answered(error);
  const inner = error instanceof HttpError ? error.error : error;
  if (inner instanceof NoJson) {
    return inner.status >= 400 ? { kind: 'server', status: inner.status } : { kind: 'no-answer' };
  }
  return codesOf(inner).some((code) => neverWentOut.has(code)) ? { kind: 'not-sent' } : { kind: 'no-answer' };
}

function answered(error: GrammyError): Fault {
  const { error_code: status, description, parameters } = error;
  if (status === 429) return { kind: 'flood', waitMs: Math.max(1, parameters.retry_after ?? 1) * 1000 };
  if (status === 401 || status === 404) return { kind: 'token' };
  if (status === 409) return { kind: 'conflict' };
  if (status === 403) return { kind: 'unreachable', why: 'blocked' };
  if (status === 400 && /chat not found|user not found|PEER_ID_INVALID/i.test(description)) {
    return { kind: 'unreachable', why: 'no-chat' };
  }
  return status >= 500 ? { kind: 'server', status } : { kind: 'refused', status };
}

/** Codes along the chain of causes; several addresses of one name give several. */
function codesOf(error: unknown): readonly string[] {
  if (typeof error !== 'object' || error === null) return [];
  const { code, cause, errors } = error as { code?: unknown; cause?: unknown; errors?: unknown };
  const more = Array.isArray(errors) ? errors : [];
  return [...(typeof code === 'string' ? [code] : []), ...[cause, ...more].flatMap(codesOf)];
}
