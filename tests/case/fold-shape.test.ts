import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { caseShape, foldCase } from '../../src/case/case.ts';
import type { CaseRecord } from '../../src/case/events.ts';

/*
 * Histories of cases as conversations left them once, kept as they are: each kind of record, each answer's field, each
 * outcome is in one of them. `tests/store/kept` holds whole databases of the same kind.
 */
type Kept = readonly [
  id: string,
  programmeId: string,
  records: readonly (readonly [at: number, by: string, flow: string, event: CaseRecord['event']])[],
];
const histories: readonly Kept[] = JSON.parse(
  gunzipSync(readFileSync(new URL('histories.json.gz', import.meta.url))).toString('utf8'),
);

/**
 * What they fold to, by the number of the fold's shape. A case is stored with what it folded to; where another program folds
 * it otherwise, `audit verify` calls it altered. So whoever changes what comes out raises `caseShape` and adds a line here;
 * a line is never changed.
 */
const folds: Readonly<Record<number, string>> = {
  10: 'a626d95fb5be3899407933498c9b4257445d84d8b9930f6ebdee0ccbd71423f8',
  11: 'cfcbe86368eeca758579c1543c683c00765120f957a813504b28365bc5e1da96',
  12: 'd4a4f74d234b9f552abad0f0aeb0cd9c9e9675fc2bf142a60f6c0fd4b91dd106',
};

const folded = histories.map(([caseId, programmeId, records]) =>
  foldCase(
    caseId,
    programmeId,
    records.map(([at, by, flow, event], index) => ({
      ...{ caseId, at, by, flow, event, sequence: index + 1 },
      eventId: `kept:${index}`,
    })),
  ),
);

/** With the names of every object in one order: in which they were set says nothing. */
const inOrder = (_name: string, value: unknown): unknown =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)))
    : value;

describe('the fold of a case', () => {
  it('gives what its number says of every history that was kept; another fold is another number', () => {
    expect(createHash('sha256').update(JSON.stringify(folded, inOrder)).digest('hex')).toBe(folds[caseShape]);
  });

  it('is held against histories of many kinds', () => {
    expect(histories.length).toBeGreaterThan(100);
    const kinds = new Set(histories.flatMap(([, , records]) => records.map(([, , , event]) => event.type)));
    expect(kinds.size).toBeGreaterThan(40);
    expect(new Set(folded.map(({ status }) => status)).size).toBeGreaterThan(8);
  });
});
