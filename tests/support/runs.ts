/** `SOAK=1`, as `npm run soak` sets it: every long form. A push tries a part of each, in as many tests. */
export const soak: boolean = process.env.SOAK === '1';

/** How often something is tried: on a push, and in a soak. */
export const runs = (push: number, long: number): number => (soak ? long : push);
