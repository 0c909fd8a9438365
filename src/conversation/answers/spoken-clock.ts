/** Times as a language says them whose day begins in the morning: `saa 5 asubuhi` is 11:00 (Swahili; hours counted from six). */
import { foldWord } from '../../text/fold.ts';

/** How a language says the time. All words folded. */
export interface SpokenClock {
  /** What stands before the hour. */
  readonly word: string;
  /** Hours that its clock is behind the one of 24 hours. */
  readonly behind: number;
  /** Parts of the day, with the hours of 24 at which each may be said, both included; behind midnight 24 and more. */
  readonly parts: Readonly<Record<string, readonly [from: number, to: number]>>;
  /** Words for a part of an hour, in minutes: half past, a quarter, less a quarter. */
  readonly minutes: Readonly<Record<string, number>>;
}

/**
 * The time on the clock of 24 hours, `11:00`, that was said with its part of the day, in either order. Null where it was not said
 * so, or the part does not fit the hour: whoever says the hour alone may mean two, and is asked.
 */
export function spokenTime(text: string, { word, behind, parts, minutes }: SpokenClock): string | null {
  const said = foldWord(text).replace(/[.!]$/u, '');
  const named = Object.entries(parts).find(([part]) => said.startsWith(`${part} `) || said.endsWith(` ${part}`));
  if (!named) return null;
  const [part, [from, to]] = named;
  const clock = said.startsWith(part) ? said.slice(part.length).trim() : said.slice(0, -part.length).trim();
  const found = new RegExp(`^${word} (?<hour>\\d{1,2})(?:[:.](?<minute>\\d{2}))?(?: (?<rest>.+))?$`, 'u').exec(clock);
  const hour = Number(found?.groups?.hour);
  if (!found || hour < 1 || hour > 12) return null;
  const { minute, rest } = found.groups ?? {};
  const more = rest === undefined ? Number(minute ?? 0) : minute === undefined ? minutesIn(rest, minutes) : null;
  if (more === null || more > 59) return null;
  const meant = [hour + behind - 12, hour + behind, hour + behind + 12, hour + behind + 24]
    .map((one) => one * 60 + more)
    .find((one) => one >= from * 60 && one < (to + 1) * 60);
  if (meant === undefined) return null;
  return `${String(Math.floor(meant / 60) % 24).padStart(2, '0')}:${String(meant % 60).padStart(2, '0')}`;
}

/** Minutes in words, `na nusu`, or `na dakika 20`. */
function minutesIn(rest: string, minutes: SpokenClock['minutes']): number | null {
  const known = Object.hasOwn(minutes, rest) ? minutes[rest]! : null;
  if (known !== null) return known;
  const [, words, figure] = /^(\D*?) ?(\d{1,2})$/u.exec(rest) ?? [];
  return words !== undefined && Object.hasOwn(minutes, words) && minutes[words] === 0 ? Number(figure) : null;
}
