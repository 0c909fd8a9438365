/** What the line looks after of itself, one word each, and whether it needs a person. */
import type { TroubleKey } from '../conversation/event.ts';

/** One of them as it was seen last. */
export interface Condition {
  readonly wrong: boolean;
  /** Text `trouble.<key>`: what is wrong, or that it is over. */
  readonly key: TroubleKey;
  readonly vars: Readonly<Record<string, string>>;
}

/** By its word: `backup`, `link-sms`. One that is not there is not known yet. */
export type Conditions = ReadonlyMap<string, Condition>;
