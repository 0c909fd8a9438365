import type { ChangeSet } from '../line/ports.ts';
import { putCase } from './cases.ts';
import type { Context } from './context.ts';
import { personKeyId } from './data-keys.ts';
import type { Ended } from './dialects/dialect.ts';
import { doneDue, putDue } from './due.ts';
import { eventKeyHash } from './keys.ts';
import { putCredit } from './links.ts';
import { inboundText, putInbound, putOutbound, recordingCase } from './messages.ts';
import { putParked } from './parked.ts';
import { changeRoster, type PeopleStatements } from './people.ts';
import { Plan } from './plan.ts';
import { putQuestion } from './questions.ts';
import { sealJson } from './seal.ts';
import { one, type Steps } from './statement.ts';
import { putStock } from './stocks.ts';

/** A change that can be written as it stands, or how it ends without being written. */
export type Planned = Plan | Exclude<Ended, 'committed'>;

/**
 * Works out everything that one event causes. Reads only, with a session that makes no keys; with one that does, the
 * new keys are written at once and the rest is planned.
 */
export function* planChange(context: Context, by: ChangeSet): Steps<Planned> {
  const { hot } = context;
  const programme_id = by.programmeId;
  const plan = new Plan();
  for (const key of by.keys) {
    const row = { key: eventKeyHash(context.ring, programme_id, key), programme_id, at: by.at };
    plan.must(hot.insertSeen, row, 'duplicate');
  }
  if (by.doneDue !== null) doneDue(context, plan, by.doneDue);
  if (by.conversation) yield* putConversation(context, plan, by, by.conversation);
  const recording = recordingCase(by);
  for (const put of by.cases) {
    const heard = by.inbound && put.value.id === recording ? inboundText(by.inbound) : null;
    const ended = yield* putCase(context, plan, put, heard);
    if (ended !== 'committed') return (yield* seenBefore(context, by)) ? 'duplicate' : ended;
  }
  for (const { value, isNew } of by.questions) yield* putQuestion(context, plan, value, isNew);
  for (const put of by.stocks) putStock(context, plan, programme_id, put);
  for (const cancel of by.cancelDue) {
    const frame = { person_id: cancel.personId, frame_id: cancel.frameId };
    if (cancel.name === null) plan.may(hot.cancelFrame, frame);
    else plan.may(hot.cancelTimer, { ...frame, name: cancel.name });
  }
  for (const held of by.hurry) {
    plan.may(hot.hurry, { person_id: held.personId, name: held.name, due_at: held.at });
  }
  for (const due of by.due) yield* putDue(context, plan, due, by.at);
  if (by.parked) yield* putParked(context, plan, hot.parked, by.parked, by.at);
  yield* putInbound(context, plan, by);
  for (const message of by.outbox) yield* putOutbound(context, plan, programme_id, message);
  for (const credit of by.credits) putCredit(plan, hot.setMark, credit.channel, credit.segments);
  if (by.strangerAnswer !== null) plan.may(hot.countStranger, { programme_id, day: by.strangerAnswer });
  return plan;
}

/** The longer way, all of it inside the transaction: for changes of the roster and for keys that must be made. */
export function* commitInside(
  context: Context,
  people: PeopleStatements,
  by: ChangeSet,
  planned: (plan: Plan) => void,
): Steps<Ended> {
  if (yield* seenBefore(context, by)) return 'duplicate';
  for (const roster of by.people) {
    const ended = yield* changeRoster(context, people, roster);
    if (ended !== 'committed') return ended;
  }
  const plan = yield* planChange(context, by);
  if (!(plan instanceof Plan)) return plan;
  planned(plan);
  return yield* plan.perform();
}

function* seenBefore(context: Context, by: ChangeSet): Steps<boolean> {
  for (const key of by.keys) {
    if (yield* one(context.hot.seen, { key: eventKeyHash(context.ring, by.programmeId, key) })) return true;
  }
  return false;
}

function* putConversation(
  context: Context,
  plan: Plan,
  by: ChangeSet,
  put: NonNullable<ChangeSet['conversation']>,
): Steps<void> {
  const { personId, state, version } = put;
  const key = yield* context.keys.obtain(personKeyId(personId), by.programmeId);
  const bound = conversationBound(personId, (version ?? 0) + 1);
  const sealed = sealJson(key, state, bound);
  const row = { person_id: personId, changed_at: by.at, sealed };
  plan.onceKept.push(({ states }) => states.put(personId, { bound, sealed, value: state }));
  if (version !== null) plan.must(context.hot.updateConversation, { ...row, version }, 'conflict');
  else plan.must(context.hot.insertConversation, { ...row, programme_id: by.programmeId, version: 1 }, 'conflict');
}

/** A conversation as it was earlier does not open in its row. */
export function conversationBound(personId: string, version: number): string {
  return `conversation:${personId}:${version}`;
}
