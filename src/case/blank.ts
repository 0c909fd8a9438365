/** A case and a specimen before anything has happened to them. */
import type { Case, Specimen } from './case.ts';

/** Nobody has acted on a result yet. */
export const nothingDone = {
  acknowledgedAt: null,
  acknowledgement: null,
  phonedAt: null,
  told: null,
  toldAt: null,
  appointedOn: null,
  seen: null,
} satisfies Partial<Specimen>;

/** None is filed, and nobody has anything to act on. */
export const noResult = { ...nothingDone, results: [], thy1Reason: null } satisfies Partial<Specimen>;

export const emptySpecimen = {
  codeChecked: false,
  attempts: [],
  fluids: [],
  takenAt: null,
  fixative: null,
  slides: [],
  fixedAt: null,
  labelledAt: null,
  postedAt: null,
  labId: null,
  receivedAt: null,
  receivedSlides: null,
  rejected: null,
  readBack: null,
  lapsed: null,
  wrongConfirmations: 0,
  locked: false,
  ...noResult,
  end: null,
} satisfies Partial<Specimen>;

/** An unborn case: the fold's start. */
export function noCase(id: string, programmeId: string): Case {
  return {
    id,
    programmeId,
    tag: '',
    siteId: '',
    ownerId: '',
    practice: false,
    earlierCaseId: null,
    openedAt: 0,
    changedAt: 0,
    sequence: 0,
    answers: {},
    answeredAt: {},
    decided: null,
    specimens: [],
    aftercare: null,
    aftercareAt: null,
    notSampled: null,
    tries: [],
    sos: null,
    sosOverAt: null,
    alarmAt: null,
    frozen: null,
    releasedAt: null,
    closed: null,
    statusAt: 0,
    status: 'findings',
    milestones: [],
    reminders: null,
  };
}
