import type { Case } from '../../src/case/case.ts';
import type { CaseRecord } from '../../src/case/events.ts';
import type { LineEvent } from '../../src/conversation/event.ts';
import type { ChangeSet, CommitOutcome, Loaded } from '../../src/line/ports.ts';
import type { StoreOptions } from '../../src/store/open.ts';
import type { LineStore } from '../../src/store/store.ts';
import type { grown } from './store-samples.ts';

/** A database that outlives the store opened on it. */
export interface Database {
  /** Opens a store on it; `crash` drops the one before without closing it first. */
  open(options: Pick<StoreOptions, 'dueAtOf'>): Promise<LineStore>;
  /** Drops the open store without any orderly stop. */
  crash(): Promise<void>;
  /** Changes rows behind the store's back. */
  tamper(sql: string): Promise<void>;
  drop(): Promise<void>;
}

/** What each part of the contract starts from. */
export interface Given {
  store(): LineStore;
  database(): Database;
  /** Drops the store as a kill would and opens the next. */
  reopen(): Promise<void>;
  one(by: ChangeSet): Promise<CommitOutcome | undefined>;
  loaded(event: LineEvent): Promise<Loaded>;
  openCase(
    id: string,
    ...more: Parameters<typeof grown>[1]
  ): Promise<{ value: Case; version: number; records: readonly CaseRecord[] }>;
}
