import { describe, expect, it } from 'vitest';
import type { Case, CaseStatus } from '../../../../src/case/case.ts';
import { dutyRules } from '../../../../src/case/duty.ts';
import type { CaseEvent } from '../../../../src/case/events.ts';
import { caseStrip } from '../../../../src/channels/bench/strip/case-strip.ts';
import { durationOf } from '../../../../src/conversation/programme.ts';
import { clockWords, dayWordsAt } from '../../../../src/text/time-words.ts';
import { caseOf, filed, labelled, opened } from '../../../support/case-fixture.ts';
import { shipped } from '../../../support/shipped.ts';
import { person } from '../../../support/world.ts';
import { say } from './english.ts';

const { programme } = shipped;
const named = { worker: 'Ada Lumo', doctor: 'Dr Tano', lab: 'Lio Marek', coordinator: 'Sela Rune' } as const;
const roster = [
  person('w', 'worker', { name: named.worker }),
  person('d', 'doctor', { name: named.doctor }),
  person('l', 'lab', { name: named.lab }),
  person('c', 'coordinator', { name: named.coordinator }),
];

const taken = labelled('s1', 'n1', '48291354');
const watched: CaseEvent = { type: 'aftercare-done', outcome: 'well-and-told' };
const posted: CaseEvent = { type: 'posted', specimens: ['s1'], labId: 'velin' };
const received: CaseEvent = { type: 'received', specimen: 's1', slides: 4 };
const now: CaseEvent = { type: 'answered', field: 'go-ahead', item: null, value: 'now' };

/** A case at each status, as its history makes it. */
const lives: Readonly<Record<Exclude<CaseStatus, 'closed'>, readonly CaseEvent[]>> = {
  findings: opened.slice(0, 3),
  decision: opened,
  readiness: [...opened, now],
  sampling: [...opened, now, ...taken.slice(0, 3)],
  labelling: [...opened, now, ...taken.slice(0, 5)],
  aftercare: [...opened, now, ...taken],
  posting: [...opened, now, ...taken, watched],
  posted: [...opened, now, ...taken, watched, posted],
  received: [...opened, now, ...taken, watched, posted, received],
  action: [...opened, now, ...taken, watched, posted, received, filed('s1', 'Thy2', 'Thy2')],
};

const stripOf = (of: Case) => caseStrip({ of, questions: [], due: [] }, { programme, roster }, of.changedAt, say);
const statuses = Object.keys(lives) as (keyof typeof lives)[];

describe('what happens if nobody does anything', () => {
  it.each(statuses)('is, of a case in %s, what its duty says: who, by when, and who hears then', (status) => {
    const of = caseOf(lives[status]);
    expect(of.status).toBe(status);
    const { owner, within, escalation, again } = dutyRules[status];
    const strip = stripOf(of);
    const from = status === 'findings' || status === 'decision' ? of.changedAt : of.statusAt;
    const until = from + durationOf(programme, within);
    expect(strip.holder).toEqual({ name: named[owner], role: owner });
    expect(strip.until).toBe(until);
    const months = say('strip-months').split(' ');
    const zone = strip.zone;
    expect(strip.ifNobody).toContain(`${clockWords(until, zone)}, the line reminds ${named[owner]}.`);
    const other = escalation === 'doctor' ? say('strip-a-doctor') : named[escalation];
    const later = of.statusAt + durationOf(programme, 'result-supervisor');
    const pause = again === 'duty-again' ? '24 h' : '1 h';
    const then =
      status === 'received'
        ? `The first reminder after ${dayWordsAt(later, zone, months)} ${clockWords(later, zone)} goes to ${other} too.`
        : `The second reminder, ${pause} later, goes to ${other} too.`;
    expect(strip.ifNobody).toContain(then);
  });

  it('with the second reminder both hear, and the strip says so', () => {
    const strip = stripOf(caseOf([...lives.posting, { type: 'reminded', duty: 'posting', rung: 1 }]));
    expect(strip.ifNobody).toMatch(/the line reminds Ada Lumo and tells Sela Rune\.$/);
  });

  it('of a parcel without a receipt the clinic is asked too, and in the end a doctor decides', () => {
    expect(stripOf(caseOf(lives.posted)).ifNobody).toMatch(
      /Ada Lumo, who posted it, is asked too\. .* a doctor decides/,
    );
  });

  it('of practice nobody is reminded', () => {
    const practice = lives.decision.map((one) => (one.type === 'opened' ? { ...one, practice: true } : one));
    const strip = stripOf(caseOf(practice));
    expect(strip.ifNobody).toBe(say('strip-no-reminder'));
    expect(strip.steps.filter((one) => one.state === 'left-out').map((one) => one.id)).toEqual([
      'post',
      'laboratory',
      'result',
      'seen',
    ]);
  });
});
