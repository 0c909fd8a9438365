/** Short code of anything thrown, for a log line: never a message text. */
export function codeOf(error: unknown): string {
  if (error instanceof Error) {
    const code = (error as { code?: unknown }).code;
    return typeof code === 'string' ? code : error.constructor.name;
  }
  return 'unknown';
}

/** File and line of the fault: no words of anybody. */
export function placeOf(error: unknown): string {
  const stack = error instanceof Error ? (error.stack ?? '') : '';
  return /([\w-]+\.[jt]s:\d+):\d+\)?$/m.exec(stack)?.[1] ?? '-';
}
