import { StoreError } from './store-error.ts';

/** True when sealed bytes or their key did not open: damaged, moved or erased. Nothing else of the database is at fault. */
export function isShut(thrown: unknown): boolean {
  if (thrown instanceof SyntaxError) return true;
  return thrown instanceof StoreError && ['unreadable', 'erased', 'wrong-key'].includes(thrown.code);
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
