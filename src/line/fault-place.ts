/** File and line of the fault: no words of anybody. */
export function placeOf(error: unknown): string {
  const stack = error instanceof Error ? (error.stack ?? '') : '';
  return /([\w-]+\.[jt]s:\d+):\d+\)?$/m.exec(stack)?.[1] ?? '-';
}
