import type { ChangeSet } from '../line/ports.ts';
import { putCase } from './cases.ts';
import type { Context } from './context.ts';
import { personKeyId } from './data-keys.ts';
import type { Ended } from './dialects/dialect.ts';
import { doneDue, putDue } from './due.ts';
import { eventKeyHash } from './keys.ts';
import { putInbound, putOutbound } from './messages.ts';
import { changeRoster, type PeopleStatements } from './people.ts';
import { putQuestion } from './questions.ts';
import { sealJson } from './seal.ts';
import { change, type Steps } from './statement.ts';

/**
 * Everything that one event causes, as steps of one transaction. Unless it ends `committed` the engine takes all of
 * it back.
 */
export function* commitSteps(context: Context, people: PeopleStatements, by: ChangeSet): Steps<Ended> {
  const { hot } = context;
  const programme_id = by.programmeId;
  for (const key of by.keys) {
    const row = { key: eventKeyHash(context.ring, programme_id, key), programme_id, at: by.at };
    if ((yield* change(hot.insertSeen, row)) !== 1) return 'duplicate';
  }
  if (by.doneDue !== null) yield* doneDue(context, by.doneDue);
  for (const one of by.people) {
    const ended = yield* changeRoster(context, people, one);
    if (ended !== 'committed') return ended;
  }
  if (by.conversation && (yield* putConversation(context, by, by.conversation)) !== 1) return 'conflict';
  for (const put of by.cases) {
    const ended = yield* putCase(context, put);
    if (ended !== 'committed') return ended;
  }
  for (const { value, isNew } of by.questions) {
    const ended = yield* putQuestion(context, value, isNew);
    if (ended !== 'committed') return ended;
  }
  for (const cancel of by.cancelDue) {
    const frame = { person_id: cancel.personId, frame_id: cancel.frameId };
    if (cancel.name === null) yield* change(hot.cancelFrame, frame);
    else yield* change(hot.cancelTimer, { ...frame, name: cancel.name });
  }
  for (const held of by.hurry) {
    yield* change(hot.hurry, { person_id: held.personId, name: held.name, due_at: held.at });
  }
  for (const due of by.due) yield* putDue(context, due, by.at);
  yield* putInbound(context, by);
  for (const message of by.outbox) yield* putOutbound(context, programme_id, message);
  if (by.strangerAnswer !== null) yield* change(hot.countStranger, { programme_id, day: by.strangerAnswer });
  return 'committed';
}

function* putConversation(context: Context, by: ChangeSet, put: NonNullable<ChangeSet['conversation']>): Steps<number> {
  const { personId, state, version } = put;
  const key = yield* context.keys.obtain(personKeyId(personId), by.programmeId);
  const row = { person_id: personId, changed_at: by.at, sealed: sealJson(key, state, conversationBound(personId)) };
  return version === null
    ? yield* change(context.hot.insertConversation, { ...row, programme_id: by.programmeId, version: 1 })
    : yield* change(context.hot.updateConversation, { ...row, version });
}

export function conversationBound(personId: string): string {
  return `conversation:${personId}`;
}
