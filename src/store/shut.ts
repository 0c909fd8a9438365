import { StoreError } from './store-error.ts';

/** True when sealed bytes or their key did not open, or a history has a gap. Nothing else of the database is at fault. */
export function isShut(thrown: unknown): boolean {
  if (thrown instanceof SyntaxError) return true;
  const codes: readonly string[] = ['unreadable', 'erased', 'wrong-key', 'broken-history'];
  return thrown instanceof StoreError && codes.includes(thrown.code);
}

/** What `open` gives; null where it does not open. Every other fault is thrown on. */
export function ifOpens<T>(open: () => T): T | null {
  try {
    return open();
  } catch (thrown) {
    if (isShut(thrown)) return null;
    throw thrown;
  }
}
