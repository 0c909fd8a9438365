import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { faultOf, proofsOf } from '../support/proofs.ts';
import { tableRows } from '../support/tables.ts';

const root = new URL('../../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');
const text = read('deploy/threats.md');
const rows = tableRows(text);
const named = rows.map((row) => [`${row['No.']} ${row['Who wants what']}`, row] as const);

/** Rows under each heading. */
const sections = text
  .split(/^## /m)
  .slice(1)
  .map((part) => [part.split('\n')[0]!, tableRows(part)] as const);

describe('the list of threats', () => {
  it('is numbered without a gap', () => {
    expect(rows.map((row) => row['No.'])).toEqual(rows.map((_, place) => `X${String(place + 1).padStart(2, '0')}`));
    expect(rows.length).toBeGreaterThan(35);
  });

  it.each(named)('%s: names what stops it, what is left, and tests by their titles', (_name, row) => {
    expect(Object.values(row).filter((cell) => cell === '')).toEqual([]);
    expect('STRIDE').toContain(row.STRIDE);
    expect(proofsOf(row.Proof!).flatMap((proof) => faultOf(proof) ?? [])).toEqual([]);
  });

  it.each(sections)('%s: is walked in the order of STRIDE', (_heading, own) => {
    const order = own.map((row) => 'STRIDE'.indexOf(row.STRIDE!));
    expect(own.length).toBeGreaterThan(0);
    if (own.length > 2) expect(order).toEqual([...order].sort((a, b) => a - b));
  });

  it('has texts walked through for all six', () => {
    expect(new Set(sections[0]![1].map((row) => row.STRIDE))).toEqual(new Set('STRIDE'));
  });

  it('uses every test of refusals as a proof', () => {
    const used = rows.flatMap((row) => proofsOf(row.Proof!).map(({ path }) => path));
    for (const name of ['forgery', 'guessing', 'chance', 'roles', 'logs', 'free-words', 'webhook', 'postgres']) {
      expect(used).toContain(`tests/refusals/${name}.test.ts`);
    }
    for (const name of ['conversation', 'doors', 'sms', 'telegram'])
      expect(used).toContain(`tests/fuzz/${name}.test.ts`);
  });

  it('tells whoever sets the line up that SMS is neither secret nor proof', () => {
    expect(text).toContain('SMS is not secret and not proof');
    expect(read('deploy/data-protection.md')).toContain('read and kept by every network on the way, in clear');
  });
});

describe('the page for the data-protection officer', () => {
  const page = read('deploy/data-protection.md');
  it('says what is kept, of whom, where, how long and who sees it', () => {
    const kept = tableRows(page).filter((row) => 'How long' in row);
    expect(kept.length).toBeGreaterThan(7);
    for (const row of kept) expect(Object.values(row).filter((cell) => cell === '')).toEqual([]);
  });

  it.each(['legal basis', 'erased', 'gateway', 'key file', 'Nothing here is legal advice'])(
    'speaks of: %s',
    (words) => {
      expect(page).toContain(words);
    },
  );
});
