/** Remembers at most `limit` values, and of those that were used last at least half as many. */
export interface Recent<Key, Value> {
  get(key: Key): Value | undefined;
  put(key: Key, value: Value): void;
  forget(key: Key): void;
}

/** In two halves: what is used moves to the young one, and the old one goes when that is full. Most looks move nothing. */
export function recent<Key, Value>(limit: number): Recent<Key, Value> {
  const half = Math.ceil(limit / 2);
  let young = new Map<Key, Value>();
  let old = new Map<Key, Value>();
  const keep = (key: Key, value: Value): void => {
    if (young.size >= half && !young.has(key)) {
      old = young;
      young = new Map();
    }
    young.set(key, value);
  };
  return {
    get(key) {
      const value = young.get(key);
      if (value !== undefined) return value;
      const before = old.get(key);
      if (before !== undefined) keep(key, before);
      return before;
    },
    put: keep,
    forget(key) {
      young.delete(key);
      old.delete(key);
    },
  };
}
