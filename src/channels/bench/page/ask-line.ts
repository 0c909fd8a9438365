/** What the page asks of the line that serves it. */

/** What came back, or the words that say why not; `error` null: the line did not answer. */
export type Reply<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly error: string | null };

/** Sends one JSON object. */
export async function post<T>(path: string, body: Readonly<Record<string, unknown>>): Promise<Reply<T>> {
  return answerOf<T>(() =>
    fetch(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) }),
  );
}

/** Reads one JSON value. */
export async function get<T>(path: string): Promise<Reply<T>> {
  return answerOf<T>(() => fetch(path));
}

async function answerOf<T>(ask: () => Promise<Response>): Promise<Reply<T>> {
  try {
    const response = await ask();
    const value: unknown = await response.json();
    if (response.ok) return { ok: true, value: value as T };
    return { ok: false, error: String((value as { readonly error?: unknown }).error ?? '') };
  } catch {
    return { ok: false, error: null };
  }
}
