/** The witness of all rows on SQLite: triggers of the writing connection itself, so that nothing that it writes is missed. */
import type Database from 'better-sqlite3';
import { openSealed, seal } from '../seal.ts';
import { type Cell, rowHash, Sums, type WitnessKeys } from '../witness.ts';

/** The sums as stored stand in one row; what moves them is gathered in memory until the commit. */
export interface SqliteWitness {
  /** Writes the sums as they are after this transaction; to be called just before its commit. */
  settle(): void;
  /** Forgets what this transaction did. */
  forget(): void;
  /** What was gathered so far in this transaction, to go back to. */
  mark(): Sums;
  backTo(mark: Sums): void;
  /** Takes the rows as they are for right: after a change of the tables. */
  takeStock(): void;
  /** Tables whose rows are not what was written through the line; `witness` when the sums are gone. */
  faults(): readonly string[];
}

const bound = 'witness';
/** Of a sealed value the format, vector and tag stand for all of it: it opens to nothing else. */
const sealedBytes = 29;

interface Table {
  readonly name: string;
  readonly columns: readonly string[];
}

/** All tables but those of the migrations and the sums themselves. */
function tablesOf(db: Database.Database): readonly Table[] {
  const names = db
    .prepare(
      `select name from sqlite_schema where type = 'table' and name <> 'witness'
        and name not like 'sqlite%' and name not like 'kysely%' order by name`,
    )
    .pluck()
    .all() as string[];
  return names.map((name) => ({
    name,
    columns: db.prepare('select name from pragma_table_info(?) order by cid').pluck().all(name) as string[],
  }));
}

function cellsOf({ columns }: Table, row: string): string {
  return columns
    .map((column) => {
      const cell = `${row}"${column}"`;
      return column.endsWith('sealed') ? `substr(${cell}, 1, ${sealedBytes})` : cell;
    })
    .join(', ');
}

/** Sets the triggers on `db`, which from then on writes only what is followed by `settle` and a commit. */
export function witnessOn(db: Database.Database, keys: WitnessKeys): SqliteWitness {
  let moved = new Sums();
  db.function('row_written', { varargs: true }, (table: string, ...cells: Cell[]) => {
    moved.add(table, rowHash(keys.rows, table, cells));
    return null;
  });
  for (const table of tablesOf(db)) {
    const written = (row: string) => `select row_written('${table.name}', ${cellsOf(table, row)});`;
    const trigger = (when: string, body: string) =>
      db.exec(
        `create temp trigger "witness_${when}_${table.name}" after ${when} on main."${table.name}" begin ${body} end`,
      );
    trigger('insert', written('new.'));
    trigger('delete', written('old.'));
    trigger('update', `${written('old.')} ${written('new.')}`);
  }
  const stored = db.prepare("select sealed from main.witness where name = 'rows'").pluck();
  const store = db.prepare(
    "insert into main.witness (name, sealed) values ('rows', ?) on conflict (name) do update set sealed = excluded.sealed",
  );
  let last: { readonly sealed: Buffer; readonly sums: Sums } | null = null;

  const read = (): Sums | null => {
    const sealed = stored.get() as Buffer | undefined;
    if (!sealed) return null;
    if (last && Buffer.compare(last.sealed, sealed) === 0) return last.sums.copy();
    return Sums.fromJson(openSealed(keys.seal, sealed, bound).toString('utf8'));
  };
  const write = (sums: Sums): void => {
    const sealed = seal(keys.seal, sums.toJson(), bound);
    store.run(sealed);
    last = { sealed, sums };
  };
  const counted = (): Sums => {
    const sums = new Sums();
    for (const table of tablesOf(db)) {
      const rows = db
        .prepare(`select ${cellsOf(table, '')} from main."${table.name}"`)
        .raw()
        .iterate();
      for (const row of rows) sums.add(table.name, rowHash(keys.rows, table.name, row as Cell[]));
    }
    return sums;
  };

  return {
    settle() {
      if (moved.empty) return;
      const sums = read();
      // Sums that are gone stay gone: the check tells.
      if (sums) {
        sums.addAll(moved);
        write(sums);
      }
      moved = new Sums();
    },
    forget() {
      moved = new Sums();
    },
    mark: () => moved.copy(),
    backTo(mark) {
      moved = mark;
    },
    takeStock() {
      write(counted());
      moved = new Sums();
    },
    faults() {
      db.exec('begin');
      try {
        const sums = read();
        return sums ? sums.differing(counted()) : [bound];
      } catch {
        return [bound];
      } finally {
        db.exec('commit');
      }
    },
  };
}
