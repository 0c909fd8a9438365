import type { Case } from '../case/case.ts';
import type { KeySession } from './data-keys.ts';
import type { HotStatements } from './hot.ts';
import type { KeyRing } from './keys.ts';
import type { Memory } from './memory.ts';

/** What the steps of one reading or one transaction have at hand. */
export interface Context {
  readonly hot: HotStatements;
  readonly ring: KeyRing;
  readonly keys: KeySession;
  readonly memory: Memory;
  readonly dueAtOf: (of: Case) => number | null;
  /** What was read for the events that are loaded together and is the same for all of them; absent = each reads for itself. */
  readonly shared?: Map<string, unknown>;
}
