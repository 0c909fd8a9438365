import { type Case, foldCase } from '../../src/case/case.ts';
import type { CaseEvent, CaseRecord, Json } from '../../src/case/events.ts';
import { lump, proposals } from './targets.ts';

/** A case as its history makes it: one event a minute from `from` (ms). */
export function caseOf(events: readonly CaseEvent[], from = Date.UTC(2030, 2, 12, 7)): Case {
  const history = events.map(
    (event, index): CaseRecord => ({
      caseId: 'case',
      sequence: index + 1,
      at: from + index * 60_000,
      by: 'w',
      eventId: `e${index}`,
      flow: '-',
      event,
    }),
  );
  return foldCase('case', 'tamboro', history);
}

export function answered(field: string, value: Json, item: string | null = null): CaseEvent {
  return { type: 'answered', field, item, value };
}

/** A specimen from its code to the label. */
export function labelled(specimen: string, nodule: string, code: string): readonly CaseEvent[] {
  return [
    { type: 'code-issued', specimen, target: lump(nodule), code, technique: 'capillary', slides: 4 },
    { type: 'code-checked', specimen },
    { type: 'attempted', specimen, attempt: 1, outcome: 'blood' },
    { type: 'attempted', specimen, attempt: 2, outcome: 'material' },
    { type: 'slides-fixed', specimen, fixative: 'alcohol', slides: ['wet-at-once', 'empty', 'wet-at-once', 'late'] },
    { type: 'labelled', specimen },
  ];
}

export const opened: readonly CaseEvent[] = [
  { type: 'opened', tag: 'AK', siteId: 'oruma', ownerId: 'w', practice: false },
  answered('patient.initials', 'AK'),
  answered('patient.birthYear', 1982),
  answered('site', 'right', 'n1'),
  answered('site', 'left', 'n2'),
  {
    type: 'decided',
    decision: 'sample',
    policy: 'common-practice',
    assessment: { nodules: [] },
    proposed: proposals('n1'),
  },
];

/** A result of this specimen, filed. */
export function filed(specimen: string, code: string, canonical: string, amends: number | null = null): CaseEvent {
  const result = { said: code, system: 'Thy' as const, code, canonical, words: '' };
  return { type: 'result-filed', specimen, result, amends, reason: null };
}
