import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { lineFigures } from '../../src/cli/line-figures.ts';
import { noteBackup } from '../../src/line/last-backup.ts';
import { Counts } from '../../src/observe/counts.ts';
import { type ReadFamily, readExposition } from '../support/exposition-parser.ts';
import { LinkedLine } from '../support/linked-line.ts';
import { person } from '../support/links.ts';

const page = readFileSync(new URL('../../deploy/figures.md', import.meta.url), 'utf8');
/** Rows of a table of the page, cell by cell. */
function rows(name: string): string[][] {
  const table = new RegExp(`<!-- ${name} -->\n([\\s\\S]*?)\n<!-- /${name} -->`).exec(page)?.[1] ?? '';
  const lines = table.split('\n').slice(2);
  return lines.map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}
const words = (cell: string): string[] => [...cell.matchAll(/`([^`]+)`/g)].map((found) => found[1]!);

const worker = person('w', 'worker', ['sms']);
const doctor = person('d', 'doctor', ['telegram']);
const coordinator = person('c', 'coordinator', ['sms']);

const spare = { inUse: false, release: () => true, refill: () => true, freeBytes: () => 5e9 };

describe('the figures of a line that works', () => {
  let line: LinkedLine;
  let text: string;
  let read: ReadonlyMap<string, ReadFamily>;
  let code: string;

  beforeAll(async () => {
    const counts = new Counts();
    line = await LinkedLine.open([worker, doctor, coordinator], { meter: counts, spare });
    const figures = lineFigures({
      line: line.line,
      store: line.store,
      clock: { now: () => line.now },
      steady: () => line.now,
      log: { write: () => undefined },
      counts,
      sound: () => true,
      database: null,
      spare: null,
      token: undefined,
    });
    code = await line.coded(worker);
    await line.says(coordinator, 'CREDIT 500');
    await line.says(coordinator, /send (\d{4})/.exec(line.heardBy('c'))![1]!);
    await line.says(worker, 'SOS');
    line.sms.answer = { kind: 'later', waitMs: 60_000, why: 'busy' };
    await line.says(worker, 'LIST');
    const [sent] = line.sms.asked;
    await line.line.noteReport('sms', sent!.id, 'delivered');
    await noteBackup(line.store, line.now - 90_000, 0);
    await line.line.watch.look();
    await line.line.watch.file(true);
    text = await answerOf(figures.door);
    read = readExposition(text);
    figures.end();
  });
  afterAll(() => line.close());

  const value = (name: string, labels: Readonly<Record<string, string>> = {}): number | undefined =>
    read
      .get(name.replace(/_(count|sum|bucket)$/, ''))
      ?.samples.find(
        (one) => one.name === name && Object.entries(labels).every(([label, of]) => one.labels[label] === of),
      )?.value;

  it('are those that the page lists, each with its type and its labels, and no others', () => {
    const listed = rows('figures').map(([name = '', type = '', labels = '']) => [words(name)[0], type, words(labels)]);
    const found = [...read].map(([name, { type, samples }]) => [
      name,
      type,
      [...new Set(samples.flatMap((one) => Object.keys(one.labels)))],
    ]);
    const whole = [...found, ...onlyWithAFile].map((one) => JSON.stringify(one));
    expect(whole.sort()).toEqual(listed.map((one) => JSON.stringify(one)).sort());
  });
  /** Where the database is a file with a disk under it. */
  const onlyWithAFile = ['neckline_disk_free_bytes', 'neckline_database_bytes', 'neckline_wal_bytes'].map((name) => [
    name,
    'gauge',
    [],
  ]);

  it('tell what waits, what passed and what is open', () => {
    expect(value('neckline_queue_texts', { lane: 'reply', link: 'sms' })).toBe(1);
    expect(value('neckline_queue_texts', { lane: 'reply', link: 'telegram' })).toBe(0);
    expect(value('neckline_texts_out_total', { lane: 'reply', link: 'sms', outcome: 'later' })).toBe(1);
    const sent = value('neckline_texts_out_total', { lane: 'reply', link: 'sms', outcome: 'sent' })!;
    expect(sent).toBeGreaterThan(5);
    expect(value('neckline_segments_out_total', { lane: 'reply', link: 'sms' })).toBeGreaterThanOrEqual(sent);
    expect(value('neckline_texts_in_total', { link: 'sms', outcome: 'done' })).toBe(
      value('neckline_handling_seconds_count'),
    );
    expect(value('neckline_reports_total', { link: 'sms', status: 'delivered' })).toBe(1);
    expect(value('neckline_cases_open', {})).toBe(1);
    expect(value('neckline_alarms_unanswered')).toBe(1);
    expect(value('neckline_link_state', { link: 'sms', state: 'ok' })).toBe(1);
    expect(value('neckline_link_state', { link: 'sms', state: 'slow' })).toBe(0);
    expect(value('neckline_link_credit_segments', { link: 'sms' })).toBeLessThanOrEqual(500);
    expect(value('neckline_backup_age_seconds')).toBe(90);
    expect(value('neckline_backup_faults')).toBe(0);
    expect(value('neckline_build_info', { engine: 'sqlite', version: packageOf().version })).toBe(1);
    expect(value('process_resident_memory_bytes')).toBeGreaterThan(1e7);
  });

  it('name every thing that the page says what to do about', () => {
    const listed = rows('alerts').flatMap(([what = '']) => words(what));
    const found = read.get('neckline_alert')!.samples.map(({ labels }) => labels.what!);
    expect([...found].sort()).toEqual([...listed].sort());
  });

  it('hold nothing of anybody: no name, number, initials, code, id or text', () => {
    const texts = [...line.sms.asked, ...line.telegram.asked];
    expect(texts.length).toBeGreaterThan(5);
    for (const secret of [code, 'AK', '1982', 'Person', '+000', '0005550100', 'ORUMA', ...texts.map((one) => one.text)])
      expect(text).not.toContain(secret);
    expect(text).not.toMatch(/\b(c-|p-|e-)[0-9a-f]{6}/);
    const spoken = [...text.matchAll(/"([^"]*)"/g)].map((found) => found[1]!);
    for (const label of spoken) expect(label).toMatch(/^[a-z0-9.+-]*$|^\+Inf$/);
  });
});

const packageOf = (): { version: string } =>
  JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8'));

/** What the door answers a program of this machine. */
async function answerOf(door: ReturnType<typeof lineFigures>['door']): Promise<string> {
  let body = '';
  const request = {
    url: '/metrics',
    method: 'GET',
    headers: { host: '127.0.0.1' },
    socket: { remoteAddress: '127.0.0.1' },
  };
  const response = {
    writeHead: () => response,
    end: (text: string) => {
      body = text;
    },
  };
  expect(await door(request as never, response as never)).toBe(true);
  return body;
}
