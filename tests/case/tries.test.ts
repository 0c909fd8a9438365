import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../src/case/events.ts';
import { isDoneSince } from '../../src/conversation/promise.ts';
import type { Question } from '../../src/conversation/state.ts';
import { caseOf, filed, labelled, opened } from '../support/case-fixture.ts';

const first = [...opened, ...labelled('s1', 'n1', '48291354'), filed('s1', 'Thy4', 'Thy4')];
const second = labelled('s2', 'n2', '12345676');
const notReached = (specimen: string | null): CaseEvent => ({ type: 'not-reached', specimen });
const told = (outcome: 'agrees' | 'refuses' | 'not-found'): CaseEvent => ({ type: 'told', specimen: 's1', outcome });

/** Tries that stand, by what they are about. */
function standing(events: readonly CaseEvent[]): readonly (string | null)[] {
  return caseOf([...first, ...second, ...events]).tries.map((one) => one.specimen);
}

describe('tries to reach a patient', () => {
  const three = [notReached('s1'), notReached('s2'), notReached(null)];

  it('are dated and belong to one specimen, or to the referral', () => {
    const of = caseOf([...first, notReached('s1'), notReached('s1')]);
    expect(of.tries).toHaveLength(2);
    expect(of.tries[1]!.at - of.tries[0]!.at).toBe(60_000);
    expect(of.tries[0]!.at).toBeGreaterThan(of.openedAt);
  });

  it.each([
    ['the patient was reached', { type: 'reached', specimen: 's1' } as CaseEvent, ['s2', null]],
    ['told and agrees', told('agrees'), ['s2', null]],
    ['told and refuses', told('refuses'), ['s2', null]],
    ['another result came', filed('s1', 'Thy2', 'Thy2', 0), ['s2', null]],
    ['given up', told('not-found'), ['s1', 's2', null]],
    ['reached about the referral', { type: 'reached', specimen: null } as CaseEvent, ['s1', 's2']],
  ])('when %s, only those about it are over', (_, event, left) => {
    expect(standing([...three, event])).toEqual(left);
  });

  it('that failed keep no doctor’s promise', () => {
    const question = { about: 'thy4', item: 's1' } as Question;
    expect(isDoneSince(caseOf([...first, told('not-found')]), question, 0)).toBe(false);
    expect(isDoneSince(caseOf([...first, told('agrees')]), question, 0)).toBe(true);
  });
});
