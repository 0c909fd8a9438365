/** What was opened or read lately and is kept in the memory of this process. */
import type { Case } from '../case/case.ts';
import type { ConversationState } from '../conversation/state.ts';
import type { Person } from '../conversation/world.ts';
import type { Opened } from './opened.ts';
import { type Recent, recent } from './recent.ts';
import type { CaseHead } from './rows.ts';

/** Small values. */
const keptSmall = 2_000;
/** Cases and conversations, each of many kB. */
const keptWhole = 300;

/** Opened values kept by the version or the bytes of their row, so that an unchanged row is not opened twice. */
export interface Memory {
  readonly people: Recent<string, { readonly version: number; readonly person: Person }>;
  readonly heads: Recent<string, { readonly version: number; readonly head: CaseHead }>;
  readonly tags: Recent<string, { readonly sealed: Buffer; readonly tag: string }>;
  /** By the ids of cases and of people. */
  readonly folds: Recent<string, Opened<Case>>;
  readonly states: Recent<string, Opened<ConversationState>>;
}

/** Nothing yet. */
export function emptyMemory(): Memory {
  return {
    people: recent(keptSmall),
    heads: recent(keptSmall),
    tags: recent(keptSmall),
    folds: recent(keptWhole),
    states: recent(keptWhole),
  };
}

/** Whatever was opened of a case or a person who was erased. */
export function forget(memory: Memory, id: string): void {
  for (const kept of Object.values(memory)) kept.forget(id);
}
