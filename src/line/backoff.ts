/** Pause after `failures` in a row (1 = the first), ms: `first`, then twice as long each time, never above `longest`. */
export function backoffMs(failures: number, first: number, longest: number): number {
  return Math.min(longest, first * 2 ** Math.min(Math.max(0, failures - 1), 30));
}
