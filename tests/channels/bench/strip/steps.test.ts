import { describe, expect, it } from 'vitest';
import type { CaseEvent } from '../../../../src/case/events.ts';
import { caseStrip } from '../../../../src/channels/bench/strip/case-strip.ts';
import type { CaseStrip } from '../../../../src/channels/bench/strip/strip.ts';
import { answered, caseOf, filed, labelled, opened } from '../../../support/case-fixture.ts';
import { shipped } from '../../../support/shipped.ts';
import { say } from './english.ts';

const signs = { done: '#', now: '>', ahead: '.', 'left-out': '-' } as const;

function stripAfter(events: readonly CaseEvent[]): CaseStrip {
  const of = caseOf(events);
  return caseStrip({ of, questions: [], due: [] }, { programme: shipped.programme, roster: [] }, of.changedAt, say);
}

/** One sign a step, in their order. */
const bandAfter = (events: readonly CaseEvent[]): string =>
  stripAfter(events)
    .steps.map((one) => signs[one.state])
    .join('');

const goAhead = answered('go-ahead', 'now');
const first = labelled('s1', 'n1', '48291354');
const second = labelled('s2', 'n2', '12345676');
const watched: CaseEvent = { type: 'aftercare-done', outcome: 'well-and-told' };
const posted: CaseEvent = { type: 'posted', specimens: ['s1'], labId: 'velin' };
const received: CaseEvent = { type: 'received', specimen: 's1', slides: 4 };
const ended: CaseEvent = { type: 'specimen-closed', specimen: 's1', end: 'reviewed' };
const sent = [...opened, goAhead, ...first, watched, posted];

describe('the ten steps of a case', () => {
  it('come one after the other in a straight case', () => {
    expect(bandAfter(opened.slice(0, 4))).toBe('>.........');
    expect(bandAfter(opened)).toBe('#>........');
    expect(bandAfter([...opened, goAhead])).toBe('##>.......');
    expect(bandAfter([...opened, goAhead, ...first.slice(0, 3)])).toBe('##>.......');
    expect(bandAfter([...opened, goAhead, ...first.slice(0, 4)])).toBe('###>......');
    expect(bandAfter([...opened, goAhead, ...first.slice(0, 5)])).toBe('####>.....');
    expect(bandAfter([...opened, goAhead, ...first])).toBe('#####>....');
    expect(bandAfter([...opened, goAhead, ...first, watched])).toBe('######>...');
    expect(bandAfter(sent)).toBe('#######>..');
    expect(bandAfter([...sent, received])).toBe('########>.');
    expect(bandAfter([...sent, received, filed('s1', 'Thy2', 'Thy2')])).toBe('#########>');
    expect(bandAfter([...sent, received, filed('s1', 'Thy2', 'Thy2'), ended])).toBe('##########');
  });

  it('say when each was done', () => {
    const { steps } = stripAfter([...sent, received]);
    const at = steps.map((one) => one.at);
    expect(at.slice(0, 8).every((one) => one !== null)).toBe(true);
    expect([...at.slice(0, 8)].sort((a, b) => a! - b!)).toEqual(at.slice(0, 8));
    expect(at.slice(8)).toEqual([null, null]);
  });

  it('are as far as the slower of two specimens', () => {
    const both = [...opened, goAhead, ...first, ...second.slice(0, 1)];
    expect(bandAfter(both)).toBe('##>.......');
    expect(stripAfter(both).code).toBe('4829 1354 + 1234 5676');
    expect(bandAfter([...opened, goAhead, ...first, ...second, watched, posted])).toBe('######>...');
  });

  it('go on without the specimen that has ended', () => {
    const one: CaseEvent = { type: 'specimen-closed', specimen: 's2', end: 'not-usable' };
    const band = [...opened, goAhead, ...first, ...second, one, watched, posted];
    expect(bandAfter(band)).toBe('#######>..');
    expect(stripAfter(band).code).toBe('4829 1354');
  });

  it('leave the needle and the laboratory out of a referral, which ends when the patient was seen there', () => {
    const referred: CaseEvent = { type: 'not-sampled', why: 'referred', reviewOn: null };
    expect(bandAfter([...opened, referred])).toBe('##------->');
    const seen = [answered('referral-seen', 'seen'), { type: 'closed', outcome: 'referred' } as const];
    expect(bandAfter([...opened, referred, ...seen])).toBe('##-------#');
  });

  it('keep the watch of a needle that gave nothing to send, and go back to the decision', () => {
    const nothing = [
      ...opened,
      goAhead,
      ...first.slice(0, 3),
      { type: 'specimen-closed', specimen: 's1', end: 'not-usable' } as const,
    ];
    expect(bandAfter(nothing)).toBe('###-->---.');
    expect(bandAfter([...nothing, watched])).toBe('#>#--#---.');
  });

  it('stand at the result where the laboratory cannot use the glass', () => {
    expect(bandAfter([...sent, received, { type: 'rejected', specimen: 's1', reason: 'broken' }])).toBe('########>.');
  });

  it('take a result for received glass, also where nobody said that it came', () => {
    const { steps } = stripAfter([...sent, filed('s1', 'Thy2', 'Thy2')]);
    expect(steps.find((one) => one.id === 'laboratory')).toEqual({ id: 'laboratory', state: 'done', at: null });
  });

  it('that were not done in a case that was ended by hand are left out', () => {
    expect(bandAfter([...opened, { type: 'closed', outcome: 'ended-by-hand' }])).toBe('#---------');
  });
});
