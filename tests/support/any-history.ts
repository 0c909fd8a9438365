/** Histories of a case: a straight life as far as it went, and whatever else can happen at any moment of it. */
import * as fc from 'fast-check';
import { type Case, foldCase } from '../../src/case/case.ts';
import type { CaseEvent, CaseRecord } from '../../src/case/events.ts';
import { shipped } from './shipped.ts';
import { lump, proposals } from './targets.ts';

export const hourMs = 3_600_000;
const specimen = fc.constantFrom('s1', 's2');
const result = fc.constantFrom('Thy1', 'Thy2', 'Thy3a', 'Thy4', 'Thy5').map((code) => ({
  said: code,
  system: 'Thy' as const,
  code,
  canonical: code,
  words: '',
}));

/** Whatever can happen to a case, in any order: also orders that no conversation would give. */
const happens: fc.Arbitrary<CaseEvent> = fc.oneof(
  fc.constant<CaseEvent>({
    type: 'decided',
    decision: 'sample',
    policy: 'x',
    assessment: {},
    proposed: proposals('n1', 'n2'),
  }),
  fc.constantFrom('go-ahead', 'referral-day', 'sampling-day', 'referral-seen').map(
    (field): CaseEvent => ({
      type: 'answered',
      field,
      item: null,
      value: field.endsWith('day') ? '2030-03-08' : 'now',
    }),
  ),
  specimen.map((item): CaseEvent => ({ type: 'answered', field: 'repeat-day', item, value: '2030-03-09' })),
  specimen.map((one): CaseEvent => {
    const code = one === 's1' ? '48291354' : '12345676';
    return { type: 'code-issued', specimen: one, target: lump(`n${one[1]}`), code, technique: 'capillary', slides: 4 };
  }),
  specimen.map((one): CaseEvent => ({ type: 'code-checked', specimen: one })),
  specimen.map((one): CaseEvent => ({ type: 'attempted', specimen: one, attempt: 1, outcome: 'material' })),
  specimen.map(
    (one): CaseEvent => ({ type: 'slides-fixed', specimen: one, fixative: 'alcohol', slides: ['wet-at-once'] }),
  ),
  specimen.map((one): CaseEvent => ({ type: 'labelled', specimen: one })),
  fc.constant<CaseEvent>({ type: 'aftercare-done', outcome: 'well-and-told' }),
  specimen.map((one): CaseEvent => ({ type: 'posted', specimens: [one], labId: 'velin' })),
  specimen.map((one): CaseEvent => ({ type: 'received', specimen: one, slides: 1 })),
  specimen.map((one): CaseEvent => ({ type: 'rejected', specimen: one, reason: 'broken' })),
  fc
    .tuple(specimen, result)
    .map(
      ([one, said]): CaseEvent => ({ type: 'result-filed', specimen: one, result: said, amends: null, reason: null }),
    ),
  specimen.map((one): CaseEvent => ({ type: 'acknowledged', specimen: one, answer: 'call-me' })),
  specimen.map((one): CaseEvent => ({ type: 'told', specimen: one, outcome: 'agrees' })),
  specimen.map((one): CaseEvent => ({ type: 'not-reached', specimen: one })),
  fc.constant<CaseEvent>({ type: 'reached', specimen: null }),
  specimen.map((one): CaseEvent => ({ type: 'appointed', specimen: one, on: '2030-03-10' })),
  specimen.map((one): CaseEvent => ({ type: 'attended', specimen: one, seen: false })),
  specimen.map((one): CaseEvent => ({ type: 'specimen-closed', specimen: one, end: 'not-usable' })),
  fc
    .constantFrom('referred', 'referred-urgently', 'no-usable-sample')
    .map((why): CaseEvent => ({ type: 'not-sampled', why, reviewOn: null })),
  fc.constant<CaseEvent>({ type: 'frozen', why: 'wrong' }),
  fc.constant<CaseEvent>({ type: 'released' }),
  fc.constant<CaseEvent>({ type: 'sos-raised', sign: 'faint' }),
  fc.constant<CaseEvent>({ type: 'sos-over', outcome: 'well-again' }),
  fc.constant<CaseEvent>({ type: 'taken-over', ownerId: 'w2' }),
);

/** A straight life, step by step. */
const life: readonly CaseEvent[] = [
  { type: 'decided', decision: 'sample', policy: 'x', assessment: {}, proposed: proposals('n1') },
  { type: 'answered', field: 'go-ahead', item: null, value: 'now' },
  { type: 'code-issued', specimen: 's1', target: lump('n1'), code: '48291354', technique: 'capillary', slides: 4 },
  { type: 'code-checked', specimen: 's1' },
  { type: 'attempted', specimen: 's1', attempt: 1, outcome: 'material' },
  { type: 'slides-fixed', specimen: 's1', fixative: 'alcohol', slides: ['wet-at-once'] },
  { type: 'labelled', specimen: 's1' },
  { type: 'aftercare-done', outcome: 'well-and-told' },
  { type: 'posted', specimens: ['s1'], labId: 'velin' },
  { type: 'received', specimen: 's1', slides: 1 },
];

/** A life as far as it went, and whatever came between and after. */
export const histories = fc
  .tuple(fc.nat(life.length), fc.array(fc.tuple(fc.nat(life.length), happens), { maxLength: 12 }))
  .map(([until, between]) => {
    const events = life.slice(0, until);
    return [
      ...events.flatMap((one, index) => [...between.filter(([at]) => at === index).map(([, each]) => each), one]),
      ...between.filter(([at]) => at >= events.length).map(([, each]) => each),
    ];
  });

/** The case that these events make, one an hour. */
export function caseAfter(events: readonly CaseEvent[]): Case {
  const first: CaseEvent = { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false };
  const known = new Set<string>();
  // What names a specimen before its code was issued cannot be recorded by any conversation.
  const possible = events.filter((event) => {
    if (event.type === 'code-issued') known.add(event.specimen);
    if (event.type === 'posted') return event.specimens.every((one) => known.has(one));
    return !('specimen' in event) || event.specimen === null || known.has(event.specimen);
  });
  const history = [first, ...possible].map(
    (event, index): CaseRecord => ({
      caseId: 'c1',
      sequence: index + 1,
      at: Date.UTC(2030, 2, 4, 8) + index * hourMs,
      by: 'w',
      eventId: `e${index}`,
      flow: '-',
      event,
    }),
  );
  return foldCase('c1', shipped.programme.id, history);
}
