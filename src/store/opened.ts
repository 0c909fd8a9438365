/** Values kept as they were opened, so that a row that nobody wrote meanwhile is not opened again. */
import type { Recent } from './recent.ts';
import { openJson, type SealKey } from './seal.ts';

/** What was opened, out of which bytes, bound to which row. */
export interface Opened<Value> {
  readonly bound: string;
  readonly sealed: Buffer;
  readonly value: Value;
}

/** As `openJson`; the value of before where the very same bytes stand in the same place. Nobody may change it. */
export function openOnce<Value>(
  kept: Recent<string, Opened<Value>>,
  id: string,
  key: SealKey,
  sealed: Buffer,
  bound: string,
): Value {
  const before = kept.get(id);
  if (before?.bound === bound && Buffer.compare(before.sealed, sealed) === 0) return before.value;
  const value = openJson<Value>(key, sealed, bound);
  kept.put(id, { bound, sealed, value });
  return value;
}
