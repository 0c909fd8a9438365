/** Remembers the `limit` values used last. */
export interface Recent<Key, Value> {
  get(key: Key): Value | undefined;
  put(key: Key, value: Value): void;
  forget(key: Key): void;
}

export function recent<Key, Value>(limit: number): Recent<Key, Value> {
  const kept = new Map<Key, Value>();
  return {
    get(key) {
      const value = kept.get(key);
      if (value === undefined) return undefined;
      kept.delete(key);
      kept.set(key, value);
      return value;
    },
    put(key, value) {
      kept.delete(key);
      kept.set(key, value);
      if (kept.size <= limit) return;
      for (const oldest of kept.keys()) {
        kept.delete(oldest);
        return;
      }
    },
    forget(key) {
      kept.delete(key);
    },
  };
}
