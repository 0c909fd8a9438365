import { describe, expect, it } from 'vitest';
import { type CaseStatus, caseStatuses, foldCase, noCase } from '../../src/case/case.ts';
import type { CaseEvent, CaseRecord, FiledResult } from '../../src/case/events.ts';
import { mayHappen, type WhyNot } from '../../src/case/may-happen.ts';
import { lump, proposals } from '../support/targets.ts';

const result: FiledResult = { said: 'Thy2', system: 'Thy', code: 'Thy2', canonical: 'Thy2', words: '' };
const s1 = { specimen: 's1' } as const;

/** Every kind of event, as it could come next. Complete: a new kind does not compile without one. */
const samples: { readonly [T in CaseEvent['type']]: CaseEvent & { readonly type: T } } = {
  opened: { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false },
  answered: { type: 'answered', field: 'go-ahead', item: null, value: 'now' },
  retagged: { type: 'retagged', tag: 'AK82' },
  linked: { type: 'linked', earlierCaseId: null },
  decided: {
    type: 'decided',
    decision: 'sample',
    policy: 'common-practice',
    assessment: {},
    proposed: proposals('n1'),
  },
  'code-issued': {
    type: 'code-issued',
    ...s1,
    target: lump('n1'),
    code: '48291354',
    technique: 'capillary',
    slides: 4,
  },
  'code-checked': { type: 'code-checked', ...s1 },
  attempted: { type: 'attempted', ...s1, attempt: 1, outcome: 'material' },
  fluid: { type: 'fluid', ...s1, attempt: 1, ml: 6, look: 'brown', kept: 'plain' },
  'needle-not-done': { type: 'needle-not-done' },
  'slides-fixed': { type: 'slides-fixed', ...s1, fixative: 'alcohol', slides: ['wet-at-once'] },
  labelled: { type: 'labelled', ...s1 },
  'aftercare-done': { type: 'aftercare-done', outcome: 'well-and-told' },
  posted: { type: 'posted', specimens: ['s1'], labId: 'velin' },
  received: { type: 'received', ...s1, slides: 4 },
  rejected: { type: 'rejected', ...s1, reason: 'broken' },
  'read-back': { type: 'read-back', ...s1, result, challenge: '4718', lapsesAt: 1 },
  'read-back-failed': { type: 'read-back-failed', ...s1 },
  'read-back-dropped': { type: 'read-back-dropped', ...s1, why: 'denied' },
  'results-locked': { type: 'results-locked', ...s1 },
  'results-unlocked': { type: 'results-unlocked', ...s1 },
  'result-filed': { type: 'result-filed', ...s1, result, amends: null, reason: null },
  'result-not-counted': { type: 'result-not-counted', ...s1 },
  'thy1-reason': { type: 'thy1-reason', ...s1, reason: 'few-cells' },
  acknowledged: { type: 'acknowledged', ...s1, answer: 'tell' },
  phoned: { type: 'phoned', ...s1 },
  told: { type: 'told', ...s1, outcome: 'agrees' },
  'not-reached': { type: 'not-reached', specimen: null },
  reached: { type: 'reached', specimen: null },
  appointed: { type: 'appointed', ...s1, on: '2030-03-10' },
  attended: { type: 'attended', ...s1, seen: true },
  reopened: { type: 'reopened', ...s1 },
  'specimen-closed': { type: 'specimen-closed', ...s1, end: 'reviewed' },
  'not-sampled': { type: 'not-sampled', why: 'referred', reviewOn: null },
  closed: { type: 'closed', outcome: 'referred' },
  'sos-raised': { type: 'sos-raised', sign: 'faint' },
  'sos-over': { type: 'sos-over', outcome: 'well-again' },
  'doctor-asked': { type: 'doctor-asked', question: 'q', about: 'asked', urgency: 'question', words: '' },
  'doctor-answered': { type: 'doctor-answered', question: 'q', answer: 'words', words: 'yes' },
  frozen: { type: 'frozen', why: 'wrong' },
  released: { type: 'released' },
  'taken-over': { type: 'taken-over', ownerId: 'v' },
  reminded: { type: 'reminded', duty: 'findings', rung: 1 },
  noted: { type: 'noted', words: 'SOS' },
  stale: { type: 'stale', what: 'duty' },
};

/** What brings a case from each status to the next. */
const path: readonly (readonly [CaseStatus, readonly CaseEvent[]])[] = [
  ['findings', [samples.opened]],
  ['decision', [samples.decided]],
  ['readiness', [samples.answered, samples['code-issued']]],
  ['sampling', [samples['code-checked'], samples.attempted]],
  ['labelling', [samples['slides-fixed']]],
  ['aftercare', [samples.labelled]],
  ['posting', [samples['aftercare-done']]],
  ['posted', [samples.posted]],
  ['received', [samples.received, samples['read-back']]],
  ['action', [samples['result-filed']]],
  ['closed', [samples['specimen-closed']]],
];

function caseIn(status: CaseStatus, more: readonly CaseEvent[] = []) {
  const until = path.findIndex(([one]) => one === status);
  const events = [...path.slice(0, until + 1).flatMap(([, happened]) => happened), ...more];
  const history = events.map(
    (event, index): CaseRecord => ({
      caseId: 'c',
      sequence: index + 1,
      at: index + 1,
      by: 'w',
      eventId: `e${index}`,
      flow: '-',
      event,
    }),
  );
  return foldCase('c', 'p', history);
}

/** May happen to every case once it was opened: answers, alarms, questions, whose case it is, how the case ends. */
const always = [
  'answered retagged linked decided not-reached reached not-sampled closed sos-raised sos-over',
  'doctor-asked doctor-answered frozen released taken-over reminded noted stale',
].flatMap((words) => words.split(' '));

/** Besides: what may be recorded of the sample in each status. */
const besides: Readonly<Record<CaseStatus, string>> = {
  findings: 'code-issued needle-not-done',
  decision: 'code-issued needle-not-done',
  readiness: 'code-issued code-checked needle-not-done reopened specimen-closed',
  sampling: 'aftercare-done code-checked slides-fixed reopened specimen-closed',
  labelling: 'aftercare-done code-checked slides-fixed labelled reopened specimen-closed',
  aftercare: 'aftercare-done code-checked slides-fixed labelled reopened specimen-closed',
  posting: 'aftercare-done code-checked slides-fixed labelled posted reopened specimen-closed',
  posted:
    'aftercare-done code-checked slides-fixed labelled posted received rejected read-back result-not-counted results-locked results-unlocked reopened specimen-closed',
  received:
    'aftercare-done code-checked slides-fixed labelled posted received rejected read-back read-back-failed read-back-dropped result-not-counted results-locked results-unlocked result-filed reopened specimen-closed',
  action:
    'aftercare-done code-checked slides-fixed labelled posted received read-back result-not-counted results-locked results-unlocked thy1-reason acknowledged phoned told appointed attended reopened specimen-closed',
  closed:
    'aftercare-done code-checked slides-fixed labelled received read-back result-not-counted results-locked results-unlocked thy1-reason acknowledged phoned told appointed attended reopened specimen-closed',
};

describe('what may follow what', () => {
  it.each(caseStatuses)('in the status %s', (status) => {
    const of = caseIn(status);
    expect(of.status).toBe(status);
    const may = Object.values(samples).filter((event) => mayHappen(of, event) === null);
    expect(may.map((event) => event.type).sort()).toEqual([...always, ...besides[status].split(' ')].sort());
  });

  it('nothing happens to a case before it was opened, and it is opened once', () => {
    const unborn = noCase('c', 'p');
    for (const event of Object.values(samples)) {
      expect(mayHappen(unborn, event)).toBe(event.type === 'opened' ? null : 'not-opened');
    }
    expect(mayHappen(caseIn('findings'), samples.opened)).toBe('opened-already');
  });

  it.each<[string, CaseStatus, CaseEvent, readonly CaseEvent[], WhyNot]>([
    ['a second puncture counted as the first', 'sampling', samples.attempted, [], 'attempt-out-of-order'],
    ['a needle before the code was read from the glass', 'readiness', samples.attempted, [], 'code-not-checked'],
    ['a needle after the parcel', 'posted', { ...samples.attempted, attempt: 2 }, [], 'posted-already'],
    ['another code for a sample that was taken', 'sampling', samples['code-issued'], [], 'needle-was-in'],
    [
      'a code for a lump of no size',
      'decision',
      { ...samples['code-issued'], target: lump('n1', 'right', []) },
      [],
      'no-size',
    ],
    ['a neck watched after no needle', 'readiness', samples['aftercare-done'], [], 'no-attempt'],
    ['slides of a needle that never was', 'readiness', samples['slides-fixed'], [], 'no-attempt'],
    ['a label on nothing', 'sampling', samples.labelled, [], 'not-fixed'],
    ['a parcel before the neck was watched', 'aftercare', samples.posted, [], 'neck-not-watched'],
    ['a parcel without a label', 'labelling', samples.posted, [samples['aftercare-done']], 'not-labelled'],
    ['a parcel of what is over', 'closed', samples.posted, [], 'specimen-over'],
    ['a parcel of a case that was closed', 'posting', samples.posted, [samples.closed], 'case-closed'],
    ['a result of what was never posted', 'posting', samples['result-filed'], [], 'not-posted'],
    ['a result that nobody read back', 'posted', samples['result-filed'], [], 'nothing-read-back'],
    [
      'a read-back while results are locked',
      'posted',
      samples['read-back'],
      [samples['results-locked']],
      'results-locked',
    ],
    ['a second result that amends none', 'action', samples['result-filed'], [samples['read-back']], 'amends-nothing'],
    ['glass that cannot be used, with a result that counts', 'action', samples.rejected, [], 'has-result'],
    ['telling the patient before there is a result', 'received', samples.told, [], 'no-result'],
    ['anything of a sample that is not there', 'decision', samples['code-checked'], [], 'no-such-specimen'],
  ])('never: %s', (_title, status, event, more, why) => {
    expect(mayHappen(caseIn(status, more), event)).toBe(why);
  });

  it('a new puncture, an amended result and a second parcel have their place', () => {
    expect(mayHappen(caseIn('labelling'), { ...samples.attempted, attempt: 2 })).toBeNull();
    const amended = { ...samples['result-filed'], amends: 0, reason: 'typing error' };
    expect(mayHappen(caseIn('closed', [samples['read-back']]), amended)).toBeNull();
    expect(mayHappen(caseIn('posted', [samples.rejected]), samples.posted)).toBeNull();
  });
});
