import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type Defence, isMutant } from '../soak/defences/defence.ts';
import { hazardDefences } from '../soak/defences/hazards.ts';
import { threatDefences } from '../soak/defences/threats.ts';
import { faultOf, proofsOf } from '../support/proofs.ts';
import { tableRows } from '../support/tables.ts';

/*
 * Every row of the two lists has a change that takes its defence away (or says why nothing here could). That each change
 * turns its proofs red is seen in a long run, tests/soak/defences.soak.ts; here, that it still can be made.
 */
const read = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');

describe.each<[string, readonly Defence[]]>([
  ['deploy/threats.md', threatDefences],
  ['deploy/hazards.md', hazardDefences],
])('the defences of %s', (list, defences) => {
  const rows = new Map(tableRows(read(list)).map((row) => [row['No.']!, row.Proof!]));
  const mutants = defences.filter(isMutant).map((one) => [`${one.row} ${one.file}`, one] as const);

  it('are there for every row and for no other', () => {
    expect([...new Set(defences.map((one) => one.row))].sort()).toEqual([...rows.keys()].sort());
  });

  it('say for a row without one why nothing here could be taken away', () => {
    const outside = defences.flatMap((one) => ('outside' in one ? [one] : []));
    for (const { row, outside: why } of outside) {
      expect(why.length, row).toBeGreaterThan(20);
      expect(mutants.map(([, one]) => one.row)).not.toContain(row);
    }
  });

  it.each(mutants)('%s: what is taken away stands there once', (_name, { file, is, becomes }) => {
    expect(read(file).split(is)).toHaveLength(2);
    expect(becomes).not.toBe(is);
  });

  it.each(mutants)('%s: what has to turn red is a proof of the row', (_name, { row, red }) => {
    const proofs = (rows.get(row) ?? '').split('<br>');
    expect(red.filter((one) => !proofs.includes(one))).toEqual([]);
  });
});

describe('a proof', () => {
  it.each([
    ['tests/deploy/none.test.ts › is new', /is not there/],
    ['tests/deploy/defences.test.ts', /without the title/],
    ['tests/deploy/defences.test.ts › is newer than this', /has no test/],
    ['tests/conversations/thy1.play › first', /has no titles/],
    ['tests/case/same-patient.test.ts › %s', /names no test/],
  ])('is refused: %s', (cell, why) => {
    expect(faultOf(proofsOf(cell)[0]!)).toMatch(why);
  });

  it.each([
    'tests/deploy/defences.test.ts › a proof',
    'tests/deploy/defences.test.ts › is refused: %s',
    'tests/contract/store.ts › finds the cases whose codes stand in "%s"',
    "tests/contract/store.ts › thirty-two people's changes become durable together",
    'tests/conversations/thy1.play',
  ])('is found: %s', (cell) => {
    expect(faultOf(proofsOf(cell)[0]!)).toBeNull();
  });
});
