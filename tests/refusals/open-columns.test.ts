import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { decisions, reasons } from '../../src/clinical/reasons.ts';
import { playFile } from '../support/play.ts';

const root = join(import.meta.dirname, '..', '..');
const doctorTexts = Object.keys(JSON.parse(readFileSync(join(root, 'locales/en/doctor.json'), 'utf8')) as object);

/** What a question can be about, what was decided and why, what a laboratory can answer. */
const telling = new Set([
  ...doctorTexts.filter((key) => key.startsWith('about-')).map((key) => key.slice('about-'.length)),
  ...decisions,
  ...reasons,
  ...['thy1', 'thy1c', 'thy2', 'thy2c', 'thy3a', 'thy3f', 'thy4', 'thy5', 'l1', 'l2', 'l3', 'l4', 'l5'],
  ...['referred', 'refuses', 'gone', 'benign', 'malignant', 'phoned', 'told'],
]);

/** No word of a patient: the flows themselves, what the line says of itself, and how far a case has come. */
const ofTheLine = new Set([
  'flow_versions.json',
  'flow_versions.flow',
  'meta.value',
  'kysely_migration.name',
  'cases.status',
]);

/** Sealed bytes and keyed hashes as text: letters and digits without sense, in which two may look like something. */
const sealedOrHashed = /^(?=.*[A-Z])(?=.*[a-z])[\w-]{20,}$/;

interface Found {
  readonly where: string;
  readonly word: string;
}

/** Every word of an open column that tells something, by table and column. */
function wordsIn(file: string): readonly Found[] {
  const db = new Database(file, { readonly: true });
  const found: Found[] = [];
  const tables = db.prepare("select name from sqlite_schema where type = 'table'").pluck().all() as string[];
  for (const table of tables) {
    for (const row of db.prepare(`select * from "${table}"`).all() as Record<string, unknown>[]) {
      for (const [column, value] of Object.entries(row)) {
        const where = `${table}.${column}`;
        if (typeof value !== 'string' || ofTheLine.has(where) || sealedOrHashed.test(value)) continue;
        const words = value.toLowerCase().match(/[a-z0-9]+(?:-[a-z0-9]+)*/g) ?? [];
        found.push(...words.filter((word) => telling.has(word)).map((word) => ({ where, word })));
      }
    }
  }
  db.close();
  return found;
}

describe('an open column of the database', () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-open-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));

  it.each([
    'thy5.play',
    'thy3a.play',
    'thy2-on-tr5.play',
    'sos-then-no-more-needles.play',
    'gone-from-a-referral.play',
    'doctor-promise.play',
    'wrong-challenge-locks.play',
  ])('tells no category, no outcome and not what a question is about: %s', async (course) => {
    const file = join(folder, 'neckline.db');
    expect((await playFile(join(root, 'tests/conversations', course), ['--db', file])).code).toBe(0);
    expect(wordsIn(file)).toEqual([]);
  });
});
