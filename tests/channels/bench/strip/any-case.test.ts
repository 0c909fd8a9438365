import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { caseStatuses } from '../../../../src/case/case.ts';
import { caseStrip } from '../../../../src/channels/bench/strip/case-strip.ts';
import { caseAfter, histories } from '../../../support/any-history.ts';
import { runs } from '../../../support/runs.ts';
import { shipped } from '../../../support/shipped.ts';
import { person } from '../../../support/world.ts';
import { say } from './english.ts';

const { programme } = shipped;
const everybody = [person('w', 'worker'), person('d', 'doctor'), person('l', 'lab'), person('c', 'coordinator')];

describe('the strip of a case, whatever happened to it', () => {
  it('has a holder, an instant and a sentence while the case is open, and none of them once it is closed', () => {
    const reached = new Set<string>();
    const rosters = fc.subarray(everybody);
    fc.assert(
      fc.property(histories, rosters, (events, roster) => {
        const of = caseAfter(events);
        reached.add(of.status);
        const strip = caseStrip({ of, questions: [], due: [] }, { programme, roster }, of.changedAt, say);
        const states = strip.steps.map((one) => one.state);
        expect(strip.closed).toBe(of.status === 'closed');
        if (strip.closed) {
          expect([strip.holder, strip.until, strip.ifNobody]).toEqual([null, null, '']);
          expect(states.filter((one) => one === 'now' || one === 'ahead')).toEqual([]);
          return;
        }
        expect(strip.holder?.name).toBeTruthy();
        expect(strip.until).toBeGreaterThan(of.openedAt);
        expect(strip.ifNobody).toMatch(/^[^{}]+\.$/);
        expect(states.filter((one) => one === 'now')).toHaveLength(1);
        // Nothing is said to come before what is now.
        expect(states.indexOf('ahead') === -1 || states.indexOf('ahead') > states.indexOf('now')).toBe(true);
      }),
      { seed: 20300305, numRuns: runs(400, 20_000) },
    );
    expect(caseStatuses.filter((one) => !reached.has(one))).toEqual([]);
  });
});
