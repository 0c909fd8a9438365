import { describe, expect, it } from 'vitest';
import { type Case, foldCase } from '../../src/case/case.ts';
import { type Duty, dutyOf } from '../../src/case/duty.ts';
import type { CaseEvent, CaseRecord } from '../../src/case/events.ts';
import { lump, proposals } from '../support/targets.ts';

const day = 86_400_000;
const durations: Readonly<Record<string, number>> = {
  receipt: 7 * day,
  result: 10 * day,
  'result-supervisor': 14 * day,
  'duty-action': 7 * day,
  'duty-action-pressing': day,
  'duty-again': day,
};

type On = readonly [atDay: number, event: CaseEvent];

function caseOf(...events: readonly On[]): Case {
  const before: readonly On[] = [
    [0, { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false }],
    [0, { type: 'decided', decision: 'sample', policy: 'common-practice', assessment: {}, proposed: proposals('n1') }],
    [
      0,
      { type: 'code-issued', specimen: 's1', target: lump('n1'), code: '48291354', technique: 'capillary', slides: 2 },
    ],
    [0, { type: 'code-checked', specimen: 's1' }],
    [0, { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'material' }],
    [0, { type: 'slides-fixed', specimen: 's1', fixative: 'alcohol', slides: ['wet-at-once', 'wet-at-once'] }],
    [0, { type: 'labelled', specimen: 's1' }],
    [0, { type: 'aftercare-done', outcome: 'well-and-told' }],
    [0, { type: 'posted', specimens: ['s1'], labId: 'velin' }],
  ];
  const records = [...before, ...events].map(
    ([atDay, event], index): CaseRecord => ({
      caseId: 'c1',
      sequence: index + 1,
      at: atDay * day,
      by: 'line',
      eventId: `e${index}`,
      flow: '-',
      event,
    }),
  );
  return foldCase('c1', 'tamboro', records);
}

function dutyAfter(...events: readonly On[]): Duty {
  const duty = dutyOf(
    caseOf(...events),
    (name) => durations[name] ?? 0,
    (text) => Date.parse(text),
  );
  if (!duty) throw new Error('nothing is owed');
  return duty;
}

const received: On = [2, { type: 'received', specimen: 's1', slides: 2 }];
const reminded = (atDay: number, duty: string, rung: number): On => [atDay, { type: 'reminded', duty, rung }];

function filed(atDay: number, code: string): On {
  const result = { said: code, system: 'Thy' as const, code, canonical: code, words: '' };
  return [atDay, { type: 'result-filed', specimen: 's1', result, amends: null, reason: null }];
}

describe('what the laboratory owes', () => {
  it('a receipt within 7 days of the post; a day later the coordinator hears too', () => {
    expect(dutyAfter()).toMatchObject({ what: 'receipt', owner: 'lab', dueAt: 7 * day, escalates: false });
    expect(dutyAfter(reminded(7, 'receipt', 1))).toMatchObject({
      dueAt: 8 * day,
      escalates: true,
      escalation: 'coordinator',
    });
  });

  it('a result within 10 days of the receipt', () => {
    expect(dutyAfter(received)).toMatchObject({ what: 'result', owner: 'lab', dueAt: 12 * day, escalates: false });
  });

  it('is asked of the laboratory alone until 14 days after the receipt, then of the coordinator too', () => {
    const asked = (times: number): Duty =>
      dutyAfter(received, ...Array.from({ length: times }, (_, index) => reminded(12 + index, 'result', index + 1)));
    expect([1, 2, 3, 4].map((times) => [asked(times).dueAt / day, asked(times).escalates])).toEqual([
      [13, false],
      [14, false],
      [15, false],
      [16, true],
    ]);
  });
});

describe('what the clinic owes on a result', () => {
  it.each([
    ['Thy4', 1],
    ['Thy5', 1],
    ['Thy3a', 7],
    ['Thy1', 7],
  ])('%s: acted on within %i days, then the doctor hears', (code, days) => {
    expect(dutyAfter(received, filed(3, code))).toMatchObject({
      what: 'action',
      owner: 'worker',
      escalation: 'doctor',
      dueAt: (3 + days) * day,
    });
  });

  it('nothing before the day after an appointment', () => {
    const duty = dutyAfter(received, filed(3, 'Thy4'), [3, { type: 'appointed', specimen: 's1', on: '1970-01-11' }]);
    expect(duty.dueAt).toBe(11 * day);
  });
});
