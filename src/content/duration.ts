const unitMs = { s: 1000, m: 60_000, h: 3_600_000, d: 86_400_000 } as const;

/** Form of a duration in `programme.yaml`: a whole number and one of s, m, h, d. */
export const durationForm = /^([1-9]\d{0,4})([smhd])$/u;

/** `10m`, `24h`, `7d` in ms; null when it is not written so. */
export function parseDuration(text: string): number | null {
  const match = durationForm.exec(text);
  if (!match) return null;
  return Number(match[1]) * unitMs[match[2] as keyof typeof unitMs];
}
