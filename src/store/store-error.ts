import { errorCode } from '../text/error-code.ts';

/** Why the store cannot go on. Decisions are taken by these codes, never by message text. */
export type StoreErrorCode =
  /** Another line holds the database. */
  | 'locked'
  /** The key file is not the one this database was written with. */
  | 'wrong-key'
  | 'bad-key-file'
  /** There is none, and the database was written with one. */
  | 'no-key-file'
  /** No line ever wrote one here, and none is to be made. */
  | 'no-database'
  /** Sealed bytes that do not open with their key: damaged or moved. */
  | 'unreadable'
  /** The data key was destroyed on purpose. */
  | 'erased'
  /** Can only be done inside a transaction: the change takes the longer way. */
  | 'needs-transaction'
  /** An address of the change belongs to somebody else. */
  | 'address-taken'
  /** A history with a gap, or a fold that is not the end of its records. */
  | 'broken-history'
  | 'old-sqlite'
  | 'bad-url'
  /** The optional driver is not installed. */
  | 'no-driver'
  | 'newer-schema'
  /** No key of a backup's pair, or of another pair. */
  | 'bad-backup-key'
  /** No backup, or not as it was written. */
  | 'bad-backup'
  /** The list of erasures is not as this line wrote it. */
  | 'bad-erasure-list'
  /** The list of erasures is from before something that the backup, or a person, knows to be erased. */
  | 'old-erasure-list'
  /** Nothing can be read or written now: full disk, read-only file, no connection. */
  | 'unavailable'
  /** Somebody reads an older state, so that replaced bytes still stand in the log. */
  | 'readers';

/** A bug or an infrastructure fault. `where` names the row or file by id, never by content. */
export class StoreError extends Error {
  readonly code: StoreErrorCode;
  readonly where: string;

  constructor(code: StoreErrorCode, where: string, cause?: unknown) {
    super(`${code} (${where})`, cause === undefined ? undefined : { cause });
    this.code = code;
    this.where = where;
  }
}

/** Faults of the database as a whole (sqlite.org result codes; PostgreSQL documentation, appendix A; Node's own). */
const ofTheWhole =
  /^(SQLITE_(FULL|IOERR|READONLY|BUSY|LOCKED|CANTOPEN|NOMEM|PERM|CORRUPT|NOTADB)(_\w+)?|08\w{3}|53\w{3}|57P\w{2}|58\w{3}|25006|E(CONN\w+|PIPE|TIMEDOUT|NOTFOUND|HOSTUNREACH|ACCES|ROFS|NOSPC))$/;

/** Codes of a disk (or its quota) that takes no more: SQLite, Node, PostgreSQL. */
const ofFullDisk: ReadonlySet<string> = new Set(['SQLITE_FULL', 'ENOSPC', 'EDQUOT', '53100']);

/** True when there is no room for what was to be written. */
export function isFull(thrown: unknown): boolean {
  const cause = thrown instanceof StoreError ? thrown.cause : undefined;
  return ofFullDisk.has(errorCode(thrown)) || (cause !== undefined && ofFullDisk.has(errorCode(cause)));
}

/** True when the database cannot be used at all now: no row and no change is at fault. */
export function isUnavailable(thrown: unknown): boolean {
  const code = errorCode(thrown);
  return code === 'unavailable' || ofTheWhole.test(code);
}
