import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { faultOf, proofsOf } from '../support/proofs.ts';
import { tableRows } from '../support/tables.ts';

const page = readFileSync(new URL('../../deploy/sms.md', import.meta.url), 'utf8');
const rows = tableRows(page);
/** Sections that say themselves that nothing here keeps them. */
const unkept = ['A USB modem at the clinic', 'An operator by SMPP'];
/** Of the bench, not of SMS: told here, kept with it. */
const elsewhere = ['Learning with your own names'];
const sections = page
  .split(/^## /m)
  .slice(1)
  .map((text) => [text.split('\n')[0]!, text] as const);

describe('the page about SMS', () => {
  it('has a test beside every claim of its tables', () => {
    expect(rows.length).toBeGreaterThan(70);
    expect(rows.filter((row) => !row['kept by'])).toEqual([]);
  });

  it.each(rows.map((row) => [row.what ?? '', row['kept by'] ?? '']))('%s', (_what, proofs) => {
    expect(proofsOf(proofs).flatMap((proof) => faultOf(proof) ?? [])).toEqual([]);
  });

  it.each(sections)('keeps what it says of: %s', (name, text) => {
    const isKept = tableRows(text).some((row) => row['kept by']);
    expect(isKept || elsewhere.includes(name) || (unkept.includes(name) && text.includes('no test keeps it'))).toBe(
      true,
    );
  });
});
