import { describe, expect, it } from 'vitest';
import { type Case, evolve } from '../../src/case/case.ts';
import { dutyOf } from '../../src/case/duty.ts';
import type { CaseEvent } from '../../src/case/events.ts';
import { dutyTimes } from '../../src/conversation/duties.ts';
import { answered, caseOf, filed, labelled, opened } from '../support/case-fixture.ts';
import { shipped } from '../support/shipped.ts';

const dayMs = 86_400_000;

/** Days between the first reminders of what a case owes while nothing happens. */
function pauses(of: Case, many: number): readonly number[] {
  const times: number[] = [];
  let now = of;
  while (times.length <= many) {
    const duty = dutyTimes(shipped.programme, now.siteId, (msOf, dayStart) => dutyOf(now, msOf, dayStart))!;
    times.push(duty.dueAt);
    const event: CaseEvent = { type: 'reminded', duty: duty.what, rung: duty.rung + 1 };
    const sequence = now.sequence + 1;
    now = evolve(now, {
      caseId: 'case',
      sequence,
      at: duty.dueAt,
      by: 'line',
      eventId: `r${sequence}`,
      event,
    });
  }
  return times.slice(1).map((at, index) => Math.round((at - times[index]!) / dayMs));
}

const resultOf = (code: string): readonly CaseEvent[] => [
  ...opened,
  ...labelled('s1', 'n1', '48291354'),
  { type: 'aftercare-done', outcome: 'well-and-told' },
  { type: 'posted', specimens: ['s1'], labId: 'velin' },
  filed('s1', code, code),
];

describe('reminders of one thing', () => {
  it('come three days in a row, then once a week', () => {
    expect(pauses(caseOf(resultOf('Thy2')), 5)).toEqual([1, 1, 7, 7, 7]);
  });

  it('of a suspicious result come every day', () => {
    expect(pauses(caseOf(resultOf('Thy4')), 5)).toEqual([1, 1, 1, 1, 1]);
  });

  it('ask the doctor, not the clinic, where a new needle is booked and the doctor has only promised to phone', () => {
    const of = caseOf([
      ...resultOf('Thy1'),
      { type: 'acknowledged', specimen: 's1', answer: 'call-me' },
      { type: 'told', specimen: 's1', outcome: 'agrees' },
      answered('repeat-day', '2030-04-12', 's1'),
    ]);
    expect(dutyTimes(shipped.programme, 'oruma', (msOf, dayStart) => dutyOf(of, msOf, dayStart))).toMatchObject({
      what: 'acknowledgement',
      owner: 'doctor',
    });
  });
});
