/** A database file that loses nothing it committed: the same settings as the line's own. */
import Sqlite from 'better-sqlite3';

/** Opens (or makes) the file: write-ahead log, synchronous = full, as `src/store/dialects/sqlite.ts`. */
export function durableFile(file: string): Sqlite.Database {
  const db = new Sqlite(file);
  db.pragma('journal_mode = wal');
  db.pragma('synchronous = full');
  db.pragma('wal_autocheckpoint = 4000');
  return db;
}

/** What a baseline keeps of one person: its own state, or null; and the answers of finished visits, in order. */
export interface KeptRows {
  readonly read: (person: string) => string | null;
  /** One durable commit: the state (null = none any more) and, where a visit ended, its answers. */
  readonly keep: (person: string, state: string | null, answers: readonly string[] | null) => void;
  readonly answersOf: (person: string) => readonly (readonly string[])[];
  readonly close: () => void;
}

/** A table of states and one of answers. */
export function keptRows(file: string): KeptRows {
  const db = durableFile(file);
  db.exec(`create table if not exists states (person text primary key, state text) strict, without rowid;
    create table if not exists visits (id integer primary key, person text not null, answers text not null) strict`);
  const begin = db.prepare('begin immediate');
  const commit = db.prepare('commit');
  const state = db.prepare('select state from states where person = ?').pluck();
  const put = db.prepare('insert into states values (?, ?) on conflict do update set state = excluded.state');
  const drop = db.prepare('delete from states where person = ?');
  const visit = db.prepare('insert into visits (person, answers) values (?, ?)');
  const visits = db.prepare('select answers from visits where person = ? order by id').pluck();
  return {
    read: (person) => (state.get(person) as string | null | undefined) ?? null,
    keep: (person, now, answers) => {
      begin.run();
      if (now === null) drop.run(person);
      else put.run(person, now);
      if (answers) visit.run(person, JSON.stringify(answers));
      commit.run();
    },
    answersOf: (person) => (visits.all(person) as string[]).map((one) => JSON.parse(one)),
    close: () => db.close(),
  };
}
