import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { caseStatuses } from '../../src/case/case.ts';
import { dutyOf } from '../../src/case/duty.ts';
import { dutyTimes } from '../../src/conversation/duties.ts';
import { caseAfter, histories, hourMs } from '../support/any-history.ts';
import { runs } from '../support/runs.ts';
import { shipped } from '../support/shipped.ts';

const { programme, texts } = shipped;

describe('a case, whatever happened to it', () => {
  it('is closed, or somebody owes its next step by an instant, and somebody else hears when it passes', () => {
    const reached = new Set<string>();
    fc.assert(
      fc.property(histories, (events) => {
        const of = caseAfter(events);
        reached.add(of.status);
        const duty = dutyTimes(programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
        if (of.status === 'closed') {
          expect(duty).toBeNull();
          return;
        }
        expect(duty?.owner).toBeDefined();
        expect(duty!.escalation).not.toBe(duty!.owner);
        expect(duty!.dueAt).toBeGreaterThan(of.openedAt);
        expect(duty!.dueAt).toBeLessThan(of.changedAt + 40 * 24 * hourMs);
        expect(texts.has(`duty.${duty!.what}-${duty!.escalation}`)).toBe(true);
        expect(duty!.what === 'frozen' || texts.has(`duty.${duty!.what}-${duty!.owner}`)).toBe(true);
      }),
      { seed: 20300304, numRuns: runs(800, 30_000) },
    );
    // Open statuses that the histories did not come to would have proven nothing.
    expect(caseStatuses.filter((one) => !reached.has(one))).toEqual([]);
  });
});
