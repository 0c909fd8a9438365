/** `SOAK=1`, as `npm run soak` sets it: every long form. A push tries a part of each, in as many tests. */
export const soak: boolean = process.env.SOAK === '1';

/** All in a soak; on a push one of so many parts, each day the next one. */
export function partOfToday<T>(all: readonly T[], parts: number): readonly T[] {
  const today = Math.floor(Date.now() / 86_400_000) % parts;
  return soak ? all : all.filter((_, at) => at % parts === today);
}

/** How often something is tried: on a push, and in a soak. */
export const runs = (push: number, long: number): number => (soak ? long : push);
