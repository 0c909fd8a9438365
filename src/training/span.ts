const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;

/** A span of time in whole words, ms, rounded: `3 minutes`, `1 hour`, `2 days`. */
export function writeSpan(ms: number): string {
  if (ms >= 2 * dayMs) return counted(Math.round(ms / dayMs), 'day');
  if (ms >= hourMs) return counted(Math.round(ms / hourMs), 'hour');
  return counted(Math.max(1, Math.round(ms / minuteMs)), 'minute');
}

const counted = (count: number, unit: string): string => `${count} ${unit}${count === 1 ? '' : 's'}`;
