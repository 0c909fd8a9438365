import { type Case, foldCase } from '../../src/case/case.ts';
import type { CaseEvent, CaseRecord } from '../../src/case/events.ts';
import type { Due, LineEvent } from '../../src/conversation/event.ts';
import { freshState, type Question } from '../../src/conversation/state.ts';
import type { Address, Person } from '../../src/conversation/world.ts';
import { nothingChanged } from '../../src/line/change.ts';
import type { ChangeSet, OutboundMessage } from '../../src/line/ports.ts';
import { lump, proposals } from '../support/targets.ts';

/** Everything in these samples happens in one programme of invented people. */
export const programmeId = 'lowland';
/** 2030-03-04T08:00:00Z. */
export const morning = Date.UTC(2030, 2, 4, 8);
export const minute = 60_000;

export function phone(name: string): Address {
  return { channel: 'sms', address: `bench:${name}` };
}

export function person(id: string, other: Partial<Person> = {}): Person {
  return {
    id,
    programmeId,
    name: `Person ${id}`,
    roles: ['worker'],
    siteId: 'hill',
    locale: 'en',
    addresses: [phone(id)],
    rank: 0,
    state: 'joined',
    practised: true,
    shared: false,
    ...other,
  };
}

export function change(eventId: string, other: Partial<ChangeSet> = {}): ChangeSet {
  return { ...nothingChanged(eventId, programmeId, morning), ...other };
}

/** A change that keeps an event for a human. */
export function setAside(event: LineEvent, other: Partial<ChangeSet> = {}): ChangeSet {
  const doneDue = event.kind === 'due' ? event.due.id : null;
  return change(event.id, { keys: event.keys, doneDue, parked: { event, code: 'broken' }, ...other });
}

export function text(id: string, from: string, words: string, other: { keys?: string[]; at?: number } = {}): LineEvent {
  return {
    kind: 'text',
    id,
    programmeId,
    keys: other.keys ?? [id],
    at: other.at ?? morning,
    seed: new Uint8Array(16),
    from: phone(from),
    text: words,
    networkAt: null,
  };
}

export function dueEvent(due: Due): LineEvent {
  return {
    kind: 'due',
    id: due.id,
    programmeId,
    keys: [due.id],
    at: due.dueAt,
    seed: new Uint8Array(16),
    due,
  };
}

export function message(id: string, to: string, other: Partial<OutboundMessage> = {}): OutboundMessage {
  return {
    id,
    to: phone(to),
    personId: to,
    caseId: null,
    at: morning,
    lane: 'reply',
    text: `words of ${id}`,
    segments: 1,
    encoding: 'GSM-7',
    flow: 'new',
    step: 'composition',
    code: null,
    ask: null,
    validUntil: morning + 24 * 60 * minute,
    notBefore: morning,
    safety: false,
    ...other,
  };
}

export function timer(id: string, personId: string, dueAt: number, other: Partial<Due> = {}): Due {
  return {
    id,
    programmeId,
    personId,
    caseId: null,
    name: 'silent',
    frameId: 'f1',
    dueAt,
    what: { kind: 'timer', frameId: 'f1', entry: 3, name: 'silent', late: 'fire' },
    ...other,
  };
}

export function question(id: string, tag: string, other: Partial<Question> = {}): Question {
  return {
    id,
    programmeId,
    caseId: null,
    tag,
    about: 'thy3',
    item: null,
    urgency: 'waiting',
    options: [{ reply: '1', id: 'sample', care: false }],
    words: 'the margin looks odd',
    askedBy: 'w1',
    openedAt: morning,
    rung: 1,
    askedOf: ['d1'],
    answeredAt: null,
    answeredBy: null,
    answer: null,
    promiseUntil: null,
    ...other,
  };
}

/** Records that go on from a case (or begin it) and the case that they give. */
export function grown(
  caseId: string,
  events: readonly CaseEvent[],
  from: { value: Case; version: number; records: readonly CaseRecord[] } | null = null,
  at = morning,
): { value: Case; version: number | null; records: readonly CaseRecord[]; all: readonly CaseRecord[] } {
  const before = from?.records ?? [];
  const records = events.map((event, index) => ({
    caseId,
    sequence: before.length + index + 1,
    at,
    by: 'w1',
    eventId: `e-${caseId}`,
    flow: 'new@1',
    event,
  }));
  const all = [...before, ...records];
  return { value: foldCase(caseId, programmeId, all), version: from?.version ?? null, records, all };
}

export const opened: CaseEvent = { type: 'opened', tag: 'AK 44 F', siteId: 'hill', ownerId: 'w1', practice: false };
export const answered: CaseEvent = { type: 'answered', field: 'composition', item: 'n1', value: 'solid' };
export const decided: CaseEvent = {
  type: 'decided',
  decision: 'sample',
  policy: 'common-practice',
  assessment: { because: ['solid over 10 mm'] },
  proposed: proposals('n1'),
};

export const closedNow: CaseEvent = { type: 'closed', outcome: 'advice' };

export function coded(code: string): CaseEvent {
  return { type: 'code-issued', specimen: 's1', target: lump('n1'), code, technique: 'capillary', slides: 4 };
}

/** A state with one thread on a case and an open question. */
export function stateOn(caseId: string | null, messageId: string) {
  return {
    ...freshState,
    entries: 3,
    threads: [
      {
        id: 't1',
        caseId,
        frames: [],
        ask: {
          frameId: 'f1',
          entry: 3,
          field: 'composition',
          item: 'n1',
          kind: 'choice' as const,
          options: [{ reply: '1', id: 'solid' }],
          askedAt: morning,
          messageId,
        },
      },
    ],
  };
}
