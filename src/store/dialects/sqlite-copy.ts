import Database from 'better-sqlite3';

/** Copies the database as it is at one instant into a new file, while others read and write it. */
export function copyDatabase(file: string, to: string): void {
  const source = new Database(file, { fileMustExist: true, timeout: 5_000 });
  try {
    source.prepare('vacuum into ?').run(to);
  } finally {
    source.close();
  }
}

/** Rows of each table, by name. */
export function rowCounts(file: string): Readonly<Record<string, number>> {
  return reading(file, (db) => {
    const tables = db.prepare("select name from sqlite_master where type = 'table' order by name").pluck().all();
    const count = (table: unknown) =>
      db
        .prepare(`select count(*) from "${String(table)}"`)
        .pluck()
        .get() as number;
    return Object.fromEntries(tables.map((table) => [String(table), count(table)]));
  });
}

/** True when every page, index and reference is in order. */
export function isSound(file: string): boolean {
  return reading(file, (db) => {
    const bad = db.pragma('foreign_key_check') as unknown[];
    return db.pragma('integrity_check', { simple: true }) === 'ok' && bad.length === 0;
  });
}

function reading<T>(file: string, look: (db: Database.Database) => T): T {
  const db = new Database(file, { readonly: true, fileMustExist: true });
  try {
    return look(db);
  } finally {
    db.close();
  }
}

/** Fingerprint of the key file that a database was written with; null when it is no database of the line. */
export function keyMarkOf(file: string): string | null {
  let db: Database.Database | null = null;
  try {
    db = new Database(file, { readonly: true });
    const mark = db.prepare("select value from meta where name = 'key'").pluck().get();
    return typeof mark === 'string' ? mark : null;
  } catch {
    return null;
  } finally {
    db?.close();
  }
}
