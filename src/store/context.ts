import type { Case } from '../case/case.ts';
import type { Person } from '../conversation/world.ts';
import type { KeySession } from './data-keys.ts';
import type { HotStatements } from './hot.ts';
import type { KeyRing } from './keys.ts';
import type { Recent } from './recent.ts';
import type { CaseHead } from './rows.ts';

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

/** Opened values kept by the version of their row, so that an unchanged row is not opened twice. */
export interface Memory {
  readonly people: Recent<string, { readonly version: number; readonly person: Person }>;
  readonly heads: Recent<string, { readonly version: number; readonly head: CaseHead }>;
  readonly tags: Recent<string, { readonly sealed: Buffer; readonly tag: string }>;
}
