import Sqlite from 'better-sqlite3';

/**
 * Looks into, or changes, a database file past the line, as somebody with a
 * shell on the machine would.
 * @param file path of the database
 * @param look called with an open connection; closed after it, whatever happens
 */
export function besideTheLine<T>(file: string, look: (db: Sqlite.Database) => T): T {
  const db = new Sqlite(file);
  try {
    return look(db);
  } finally {
    db.close();
  }
}
