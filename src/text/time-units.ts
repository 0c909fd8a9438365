/** Units in which durations are written: `90s`, `10m`, `24h`, `7d`; in ms. */
export const unitMs = { s: 1000, m: 60_000, h: 3_600_000, d: 86_400_000 } as const;
export type TimeUnit = keyof typeof unitMs;
