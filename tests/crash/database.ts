/** The database of a clinic, looked at from outside the line. */
import Sqlite from 'better-sqlite3';
import { openPool } from '../../src/store/dialects/postgres.ts';

export interface Database {
  readonly url: string;
  /** A file of its own, which only one process holds; null = on a server. */
  readonly file: string | null;
  rows<Row>(query: string): Promise<readonly Row[]>;
  isSound(): Promise<boolean>;
}

/** A file: looked at while no line runs on it. */
export function fileDatabase(file: string): Database {
  const looking = <T>(look: (db: Sqlite.Database) => T): T => {
    const db = new Sqlite(file, { readonly: true });
    try {
      return look(db);
    } finally {
      db.close();
    }
  };
  return {
    url: `sqlite:${file}`,
    file,
    rows: async <Row>(query: string) => looking((db) => db.prepare(query).all() as Row[]),
    isSound: async () => looking((db) => db.pragma('integrity_check', { simple: true }) === 'ok'),
  };
}

/** On a server, which several lines share and which outlives them. */
export function serverDatabase(url: string): Database {
  return {
    url,
    file: null,
    rows: async <Row>(query: string) => {
      const pool = await openPool(url);
      const client = await pool.connect();
      try {
        return (await client.query(query)).rows as Row[];
      } finally {
        client.release();
        await pool.end();
      }
    },
    isSound: async () => true,
  };
}
