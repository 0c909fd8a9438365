/** What the test tells the line's process, and the points at which that process can be made to die. */

/**
 * Named points, in the order in which one message passes them. `statement`: between two statements of a transaction;
 * `committing` and `committed`: before and after the statement that makes it durable.
 */
export const killPoints = [
  'opened',
  'recovered',
  'heard',
  'loaded',
  'statement',
  'committing',
  'committed',
  'answer',
  'answered',
  'claimed',
  'sending',
  'taken',
  'settled',
  'due',
] as const;

export type KillPoint = (typeof killPoints)[number];

export interface Orders {
  /** Package the flows and the driver are taken from. */
  readonly root: string;
  /** `sqlite:…` or `postgres://…`. */
  readonly url: string;
  readonly keyFile: string;
  readonly gatewayPort: number;
  /** The line's clock: `lineAt` when the machine's said `realAt`, running `rate` times as fast. */
  readonly clock: { readonly realAt: number; readonly lineAt: number; readonly rate: number };
  /** Dies when it passes `point` for the `nth` time; null = lives until it is killed. */
  readonly kill: { readonly point: KillPoint; readonly nth: number } | null;
  /** Longest wait for the gateway's answer, real ms. */
  readonly answerWithinMs: number;
}

/** What can be changed while it lives. */
export interface Change {
  /** Moves the clock by so much, ms. */
  readonly jumpMs?: number;
  /** Makes the database refuse to be written, as a file system that went read-only does. */
  readonly readOnly?: boolean;
}

/** How far the line is. */
export interface State {
  readonly now: number;
  readonly nextOutboxAt: number | null;
  readonly nextDueAt: number | null;
  readonly parked: number;
  /** Texts on their way to the gateway: those behind them wait. null: other processes have some too. */
  readonly sending: number | null;
}
