/**
 * Short code of anything thrown, for a log line or a decision: its own code (`ENOENT`, `SQLITE_FULL`, ours), else the name
 * of its class, else `unknown`. Never a message text.
 */
export function errorCode(thrown: unknown): string {
  const code = (thrown as { code?: unknown } | null | undefined)?.code;
  if (typeof code === 'string') return code;
  if (!(thrown instanceof Error)) return 'unknown';
  return thrown.name === 'Error' ? thrown.constructor.name : thrown.name;
}
