/** What is known of the copies of the database: `neckline backup` leaves marks in it, the line judges their age. */
import { backupMarks, type EpochMs, type Store } from './ports.ts';

export interface LastBackup {
  /** When the newest copy was made; null = none is known of. */
  readonly madeAt: EpochMs | null;
  /** Faults of the database that it found. */
  readonly faults: number;
  /** When the making of one failed last; null = never, or a copy was made since. */
  readonly failedAt: EpochMs | null;
  /** Since when a copy is waited for, while there is none. */
  readonly awaitedSince: EpochMs | null;
}

/** `late`: the newest one is older than it may be. `failed`: one was tried since and was not made. */
export type BackupState = 'well' | 'failed' | 'late';

/** Reads the marks. */
export async function lastBackup(store: Pick<Store, 'mark'>): Promise<LastBackup> {
  const numberAt = async (name: string): Promise<number | null> => {
    const value = await store.mark(name);
    return value === null ? null : Number(value);
  };
  const madeAt = await numberAt(backupMarks.made);
  const failedAt = await numberAt(backupMarks.failed);
  return {
    madeAt,
    faults: (await numberAt(backupMarks.faults)) ?? 0,
    failedAt: failedAt !== null && (madeAt === null || failedAt > madeAt) ? failedAt : null,
    awaitedSince: madeAt === null ? await numberAt(backupMarks.awaited) : null,
  };
}

/** Notes that a copy was made and read back, with so many faults of the database itself in it. */
export async function noteBackup(store: Pick<Store, 'setMark'>, at: EpochMs, faults: number): Promise<void> {
  await store.setMark(backupMarks.faults, String(faults));
  await store.setMark(backupMarks.made, String(at));
}

/** Notes that a copy could not be made. */
export async function noteFailedBackup(store: Pick<Store, 'setMark'>, at: EpochMs): Promise<void> {
  await store.setMark(backupMarks.failed, String(at));
}

/** From the first look of a line on: without it a line that never had a copy would never be late. */
export async function awaitBackup(store: Pick<Store, 'mark' | 'setMark'>, now: EpochMs): Promise<void> {
  if ((await store.mark(backupMarks.awaited)) === null) await store.setMark(backupMarks.awaited, String(now));
}

/**
 * Age of the newest copy, ms, or how long the first one is waited for; null = neither is known. A copy of the future was
 * made before the clock was set back, and nobody knows how old it is.
 */
export function backupWaitMs({ madeAt, awaitedSince }: LastBackup, now: EpochMs): number | null {
  const since = madeAt ?? awaitedSince;
  return since === null ? null : Math.abs(now - since);
}

/** Judges by age, then by whether the last try failed. */
export function backupState(last: LastBackup, now: EpochMs, lateMs: number): BackupState {
  if ((backupWaitMs(last, now) ?? 0) > lateMs) return 'late';
  return last.failedAt === null ? 'well' : 'failed';
}
