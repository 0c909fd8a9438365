import { type TimeUnit, unitMs } from '../text/time-units.ts';

/** Form of a duration in `programme.yaml`: a whole number and one of s, m, h, d. */
export const durationForm = /^([1-9]\d{0,4})([smhd])$/u;

/** `10m`, `24h`, `7d` in ms; null when it is not written so. */
export function parseDuration(text: string): number | null {
  const match = durationForm.exec(text);
  if (!match) return null;
  return Number(match[1]) * unitMs[match[2] as TimeUnit];
}

/** The same the other way: `1800000` is `30m`, in the largest unit that holds it whole; what is less than a second is `0s`. */
export function writeDuration(ms: number): string {
  const unit = (['d', 'h', 'm'] as const).find((one) => ms >= unitMs[one] && ms % unitMs[one] === 0) ?? 's';
  return `${Math.floor(ms / unitMs[unit])}${unit}`;
}
