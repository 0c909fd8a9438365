/** Judges a link by results: what became of its texts, how long texts wait, how far its clock is off. Pure. */
import type { LinkFacts, LinkState } from './ports.ts';

/** A report that takes longer is missing, ms. Line convention. */
const reportWithinMs = 15 * 60_000;
/** Newest texts that must all lack their report before a link is doubted. */
const doubtedAfter = 3;
/** Texts that must all lack one before a link counts as one that never reports. */
const muteAfter = 10;
/** A text that may go and has waited for longer is a fault, ms. */
export const slowAfterMs = 3 * 60_000;

/**
 * The worst that can be said of a link now. `doubtful`: reports used to come and stopped. `mute`: none ever came, so
 * that "sent" is all that is known. `deafMs`: for how long nothing could come in. `offsetMs`: measured offset of its clock, null = not measured.
 */
export function linkState(
  facts: LinkFacts,
  link: {
    readonly reports: boolean;
    readonly offsetMs: number | null;
    readonly offsetAtMostMs: number;
    readonly deafMs?: number | null;
  },
  now: number,
): LinkState {
  // Said in the future: the clock was set back since, and nobody knows how long it waits.
  if (facts.waitingSince !== null && Math.abs(now - facts.waitingSince) > slowAfterMs) return 'slow';
  if ((link.deafMs ?? 0) > slowAfterMs) return 'deaf';
  if (link.reports) {
    const judged = facts.sent.filter((one) => one.handedAt <= now - reportWithinMs);
    const reported = facts.sent.some((one) => one.reportedAt !== null);
    const newest = judged.slice(0, doubtedAfter);
    const silent = newest.length === doubtedAfter && newest.every((one) => one.reportedAt === null);
    // A report that came for a younger text shows that the link speaks again.
    const since = newest[0]?.handedAt ?? 0;
    const speaks = facts.sent.some((one) => one.reportedAt !== null && one.handedAt > since);
    if (silent && reported && !speaks) return 'doubtful';
    if (!reported && judged.length >= muteAfter) return 'mute';
  }
  return link.offsetMs !== null && Math.abs(link.offsetMs) > link.offsetAtMostMs ? 'clock' : 'ok';
}

export type CreditState = 'enough' | 'low' | 'reserve' | 'none';

/** How much of a prepaid budget is left: a fifth is low, the last tenth is kept for what cannot wait. */
export function creditState(credit: LinkFacts['credit']): CreditState {
  if (credit === null) return 'enough';
  if (credit.left <= 0) return 'none';
  if (credit.left * 10 <= credit.granted) return 'reserve';
  return credit.left * 5 <= credit.granted ? 'low' : 'enough';
}
