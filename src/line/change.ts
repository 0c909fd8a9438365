import type { ChangeSet } from './ports.ts';

/** A change that changes nothing yet, under one key: whoever makes one by hand says only what it does. */
export function nothingChanged(eventId: string, programmeId: string, at: number): ChangeSet {
  return {
    eventId,
    programmeId,
    at,
    keys: [eventId],
    inbound: null,
    conversation: null,
    cases: [],
    outbox: [],
    due: [],
    cancelDue: [],
    hurry: [],
    doneDue: null,
    questions: [],
    people: [],
    strangerAnswer: null,
    stocks: [],
    credits: [],
    parked: null,
  };
}
