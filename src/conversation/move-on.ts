/**
 * After a change of the flows: whoever walks a structure that is not served any more goes on in today's. The question
 * that was open stays where it can still be answered as it was shown; else it is asked anew, so that a digit of the old
 * one answers nothing. What has no place any more begins where the case stands.
 */
import { isFirstAid } from './alarm-digits.ts';
import type { FlowAsk, FlowState } from './flow.ts';
import { isFrozen } from './frozen.ts';
import { askingThread, Interpreter, stateOf, topFrame } from './interpret.ts';
import { flowThatCarries } from './resume.ts';
import type { Frame, OpenAsk, Thread } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** True: the structure of each of these frames is served. */
export function areServed(turn: Turn, frames: readonly Frame[]): boolean {
  return frames.every((frame) => turn.world.flows.byHash.has(frame.hash));
}

/** Moves every thread of this person that walks a structure which is not served. Does nothing while none does. */
export function moveOn(turn: Turn): void {
  const { person } = turn;
  if (!person) return;
  const moved = turn.threads.filter((thread) => !areServed(turn, thread.frames));
  for (const thread of moved) moveThread(turn, person, thread);
}

/** Asks anew what was moved, once it is this question's turn. */
export function askMoved(turn: Turn): void {
  const { person, event } = turn;
  const thread = askingThread(turn);
  if (person?.state !== 'joined' || thread?.ask?.moved !== true || isFrozen(turn, thread)) return;
  const frame = topFrame(thread)!;
  // With gloves on nobody is asked anything that they did not come for.
  if (event.kind === 'due' && stateOf(turn, frame)?.quiet === true) return;
  turn.state = { ...turn.state, previousAskAt: thread.ask.askedAt };
  turn.say(person, 'mended.moved', { frame: null, caseId: thread.caseId });
  const interpreter = new Interpreter(turn, person);
  if (frame.entry === 0) interpreter.enter(thread.id, frame.state as FlowState['name']);
  else interpreter.show(thread.id);
}

function moveThread(turn: Turn, person: Person, thread: Thread): void {
  const interpreter = new Interpreter(turn, person);
  for (const frame of thread.frames) turn.cancelTimers(frame.id);
  const last = thread.frames.length - 1;
  const placed = thread.frames.map((frame, index) => placeOf(turn, frame, index === last ? thread : null));
  const lostAt = placed.lastIndexOf(null);
  const kept = placed.slice(lostAt + 1) as readonly Frame[];
  const begun = lostAt < 0 ? [] : beginningFor(turn, person, thread, thread.frames[lostAt]!, kept.length > 0);
  const frames = [...begun, ...kept];
  if (lostAt >= 0) turn.releaseHeld();
  if (frames.length === 0) {
    interpreter.remove(thread.id);
    tellDropped(turn, person);
    return;
  }
  const top = frames.at(-1)!;
  interpreter.put({ ...thread, frames, ask: askOf(turn, thread, top) });
  for (const frame of kept) {
    const state = stateOf(turn, frame);
    if (state) interpreter.arm(thread.id, state, frame);
  }
}

/** The frame in today's structure, or null where it has no such place. `of`: the thread whose top frame it is. */
function placeOf(turn: Turn, frame: Frame, of: Thread | null): Frame | null {
  if (areServed(turn, [frame])) return frame;
  const flow = turn.world.flows.newest.get(frame.flow);
  const state = flow?.states.get(frame.state);
  if (!flow || !state) return null;
  if (frame.returnTo !== null && of === null) {
    if (!flow.states.has(frame.returnTo)) return null;
  } else if (!isPlaceToWait(state) || (of !== null && !isStillAsked(turn, of, state.ask))) {
    return null;
  }
  const entries = turn.state.entries + 1;
  turn.state = { ...turn.state, entries };
  const trail = frame.trail.filter((one) => flow.states.get(one.state)?.ask);
  return { ...frame, hash: flow.hash, entry: entries, trail };
}

/**
 * Whether the thread's question can be asked here. Of findings the first that is missing is asked, whichever was open: what
 * the older questions did not ask would be read back as not asked.
 */
function isStillAsked(turn: Turn, thread: Thread, ask: FlowAsk | null): boolean {
  if (thread.ask === null) return true;
  if (ask === null) return false;
  return meansTheSame(thread.ask, ask) || turn.caseOf(thread.caseId)?.status !== 'findings';
}

function isPlaceToWait(state: FlowState): boolean {
  return !state.final && state.decide === null && (state.ask !== null || !state.transitions.has('next'));
}

/** Where a lost frame begins again: an alarm with its first aid, a case where its history stands. Empty: nowhere. */
function beginningFor(turn: Turn, person: Person, thread: Thread, lost: Frame, isBelow: boolean): readonly Frame[] {
  const of = turn.caseOf(thread.caseId);
  const carried = of !== null && of.ownerId === person.id ? flowThatCarries(turn, of.status) : null;
  const name = isFirstAid(turn, lost) ? lost.flow : carried;
  const flow = turn.world.flows.newest.get(name ?? '');
  const item = lost.item ?? of?.specimens[0]?.id ?? null;
  const isThere = turn.threads.some(
    (one) => one.id !== thread.id && one.caseId === thread.caseId && one.frames.some((each) => each.flow === name),
  );
  if (!flow || isThere) return [];
  const id = turn.nextId('f');
  const returnTo = isBelow ? flow.initial : null;
  const frame = { id, flow: flow.name, hash: flow.hash, state: flow.initial, entry: 0, since: turn.now, item };
  return [{ ...frame, vars: {}, trail: [], returnTo }];
}

/** The open question of a moved thread: as it was where it still means the same, to be asked anew, or none. */
function askOf(turn: Turn, thread: Thread, top: Frame): OpenAsk | null {
  const ask = stateOf(turn, top)?.ask ?? null;
  if (top.entry > 0 && ask === null) return null;
  const { frameId, entry } = { frameId: top.id, entry: top.entry };
  if (thread.ask && ask && top.entry > 0 && meansTheSame(thread.ask, ask)) return { ...thread.ask, frameId, entry };
  const none = { field: ask?.field ?? '', item: null, kind: ask?.kind ?? 'text', options: [], messageId: '' } as const;
  return { ...none, askedAt: turn.now, ...thread.ask, frameId, entry, moved: true };
}

/** An answer to the question as it was shown is an answer to today's. A reader knows its digits; others go by what was shown. */
function meansTheSame(shown: OpenAsk, ask: FlowAsk): boolean {
  if (shown.field !== ask.field || shown.kind !== ask.kind) return false;
  return shown.options.every((one) => {
    const today = ask.options.find((each) => each.id === one.id);
    return today !== undefined && (ask.reader === null || one.reply.endsWith(today.reply));
  });
}

/** Nothing carries it on: said, and a coordinator hears. */
function tellDropped(turn: Turn, person: Person): void {
  if (person.state === 'joined') turn.say(person, 'mended.dropped', { frame: null, caseId: null });
  turn.notify('coordinators', 'mended.dropped-for-coordinator', 'notice', null, null, { who: person.name });
  turn.disturbed = true;
}
