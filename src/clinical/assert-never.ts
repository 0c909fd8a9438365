/** Marks a place that the compiler proves unreachable; reached at run time it is a bug and throws. */
export function assertNever(value: never): never {
  throw new Error(`unexpected case: ${JSON.stringify(value)}`);
}
