import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dueAtOf } from '../../src/conversation/duties.ts';
import { keyRingOf, openKeyRing } from '../../src/store/keys.ts';
import { openStore } from '../../src/store/open.ts';
import { openSealed } from '../../src/store/seal.ts';
import type { LineStore } from '../../src/store/store.ts';
import { unwrapKey } from '../../src/store/wrapping.ts';
import { besideTheLine } from '../support/beside-the-line.ts';
import { playLines } from '../support/play.ts';
import { shipped } from '../support/shipped.ts';

const root = join(import.meta.dirname, '..', '..');
const document = readFileSync(join(root, 'deploy/data-protection.md'), 'utf8');

/** The places that the paper names in its list of what erasing leaves. */
function namedIn(heading: string): readonly string[] {
  const section = document.split(`${heading}\n`)[1]?.split('\n\n')[0] ?? '';
  return [...section.matchAll(/`([a-z_]+\.[a-z_]+)`/g)].map((found) => found[1]!).sort();
}

const patient = ['NEW', 'QX 1961 F', '60', '70', '80', '0', '40', '1', '5', '1', 'R 31x22x20', '4', '14', '6', 'OK'];

describe('after a patient was erased', () => {
  let folder: string;
  let file: string;
  let store: LineStore;
  let caseId: string;
  let code: string;
  const rows = (table: string): Record<string, unknown>[] =>
    besideTheLine(file, (db) => db.prepare(`select * from "${table}"`).all() as Record<string, unknown>[]);
  const tables = (): readonly string[] =>
    besideTheLine(
      file,
      (db) => db.prepare("select name from sqlite_schema where type = 'table'").pluck().all() as string[],
    );

  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'neckline-erased-'));
    file = join(folder, 'neckline.db');
    const phones = ['w worker', 'd doctor', 'l lab', 'c coordinator'].map((one, index) => {
      const [name, role] = one.split(' ');
      return `phone ${name} +00055501000${index + 1} role=${role}`;
    });
    const lines = [
      ...phones,
      ...patient.map((words) => `w> ${words}`),
      ...['1', '135', '7', 'ALL', '50'].map((words) => `w> ${words}`),
      'w> LIST',
      'd> LIST',
      'w> DOCTOR is the bag of QX safe?',
      'wait 1d',
    ];
    await playLines(lines, ['--json', '--db', file]);
    const keys = openKeyRing(`${file}.key`);
    store = await openStore({ url: `sqlite:${file}`, keys, dueAtOf: (of) => dueAtOf(shipped.programme, of) });
    const [of] = rows('cases') as { id: string; codes: string }[];
    caseId = of!.id;
    code = of!.codes;
    expect(code).toMatch(/^\d{8}$/);
    await store.dailyHead(Date.UTC(2031, 0, 1), 0);
    await store.look(caseId, 'command line: somebody', 1);
    expect(await store.eraseCase(caseId, Date.UTC(2031, 0, 2))).toBe(true);
  }, 60_000);
  afterAll(async () => {
    await store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it('id and code stand where the paper says, and nowhere else', () => {
    const found = new Set<string>();
    for (const table of tables()) {
      for (const row of rows(table)) {
        for (const [column, value] of Object.entries(row)) {
          const text = Buffer.isBuffer(value) ? value.toString('latin1') : String(value);
          if (text.includes(caseId) || text.includes(code)) found.add(`${table}.${column}`);
        }
      }
    }
    expect([...found].sort()).toEqual(namedIn('The id or the code of an erased case stands in:'));
  });

  it('no byte of initials with the year, of a size, of a doctor or a word stands in any file', () => {
    const bytes = readdirSync(folder)
      .filter((name) => !name.endsWith('.key'))
      .map((name) => readFileSync(join(folder, name)).toString('latin1'))
      .join('');
    for (const words of ['QX 1961', '31x22x20', 'is the bag', 'QX: ', ' QX ', '"QX"']) {
      expect(bytes.includes(words), words).toBe(false);
    }
  });

  it('the initials can be opened where the paper says, and nowhere else', () => {
    const ring = openKeyRing(`${file}.key`);
    const keys = new Map(
      (rows('data_keys') as { id: string; wrapped: Buffer | null }[]).flatMap(({ id, wrapped }) =>
        wrapped === null ? [] : [[id, unwrapKey(ring, wrapped, id)] as const],
      ),
    );
    expect([...keys.keys()].some((id) => id.startsWith('case:'))).toBe(false);
    const found = new Set<string>();
    const opens = (table: string, row: Record<string, unknown>, key: Buffer | undefined, bound: string) => {
      if (!key || !Buffer.isBuffer(row.sealed) || row.sealed.length === 0) return;
      const words = openSealed(key, row.sealed, bound).toString('utf8');
      if (/\bQX\b/.test(words)) found.add(`${table}.sealed`);
    };
    for (const row of rows('messages')) opens('messages', row, keys.get(String(row.key_id)), `message:${row.id}`);
    for (const row of rows('conversations')) {
      const { person_id, version } = row;
      opens('conversations', row, keys.get(`person:${person_id}`), `conversation:${person_id}:${version}`);
    }
    for (const row of rows('due')) {
      const { id, person_id, case_id, name } = row;
      opens('due', row, keys.get(String(row.key_id)), JSON.stringify([`due:${id}`, person_id, case_id, name]));
    }
    expect([...found].sort()).toEqual(namedIn('Initials of an erased patient can be opened, with the key file, in:'));
  });

  it('another key file opens nothing of what is left', () => {
    const other = keyRingOf(Buffer.alloc(32, 9));
    for (const { id, wrapped } of rows('data_keys') as { id: string; wrapped: Buffer | null }[]) {
      if (wrapped !== null) expect(() => unwrapKey(other, wrapped, id)).toThrow(/unreadable|wrong-key/);
    }
  });
});
