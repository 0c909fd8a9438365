import type { EpochMs } from './ports.ts';

/** One of several ways of a channel: a gateway of its own, where the channel speaks with more than one. */
export interface Way {
  readonly name: string;
  /** What people call it. */
  readonly label: string;
  /** It has taken nothing for so long that its texts go another way, where there is one. */
  readonly isDown: boolean;
  /** When the last text came in, was taken, was reported on since the start; null = none. */
  readonly heardAt: EpochMs | null;
  readonly handedAt: EpochMs | null;
  readonly reportedAt: EpochMs | null;
  /** Segments that it took on this day; `atMost`: null = as many as come. */
  readonly day: { readonly day: string; readonly segments: number; readonly atMost: number | null };
}
