/** Walks flows: enters states, takes transitions, comes back to interrupted questions. Run to completion, with a bound. */
import type { Json } from '../case/events.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { StateName } from '../generated/state-names.ts';
import { digitsOf, isRaised, laneOf, withAlarmDigits } from './alarm-digits.ts';
import { askToken } from './ask-token.ts';
import type { ShownAsk } from './effect.ts';
import { exitsAt } from './exits.ts';
import type { Flow, FlowState, FlowTransition } from './flow.ts';
import { isFrozen, sayFrozen } from './frozen.ts';
import { type AlarmAnswer, provenAnswers } from './hearing/alarm-words.ts';
import { closeQuestion } from './matters/close-question.ts';
import { isYesToNeedle } from './matters/no-to-needle.ts';
import type { Moment } from './moment.ts';
import { secretReplies } from './secret-replies.ts';
import { heardAgain, isReminder } from './silence.ts';
import type { Frame, OpenAsk, Thread } from './state.ts';
import { timerInstant } from './timer-instant.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** States that one event may enter before it counts as an endless chain. The checker finds such chains first. */
const stateBound = 60;

export interface RunOptions {
  readonly caseId?: string | null;
  readonly item?: string | null;
  readonly vars?: Readonly<Record<string, Json>>;
  /** Put on top of this thread instead of a new one. */
  readonly onThread?: string | null;
}

/** The structure a frame walks. One that is not served any more falls to the newest (`move-on.ts`). */
function flowOf(turn: Turn, frame: Frame): Flow {
  const flow = turn.world.flows.byHash.get(frame.hash) ?? turn.world.flows.newest.get(frame.flow);
  if (!flow) throw new Error(`no flow ${frame.flow}`);
  return flow;
}

/** The state a frame is in, or null when its structure no longer has it. */
export function stateOf(turn: Turn, frame: Frame): FlowState | null {
  return flowOf(turn, frame).states.get(frame.state) ?? null;
}

export function topFrame(thread: Thread): Frame | null {
  return thread.frames.at(-1) ?? null;
}

/** The thread whose question is open: the last one that asks. */
export function askingThread(turn: Turn): Thread | null {
  return [...turn.threads].reverse().find((one) => one.ask !== null) ?? null;
}

/** A frame at the beginning of this flow, with nothing of its own yet. */
function begun(turn: Turn, flow: Flow): Omit<Frame, 'item' | 'vars' | 'returnTo'> {
  const { name, hash, initial } = flow;
  return { id: turn.nextId('f'), flow: name, hash, state: initial, entry: 0, since: turn.now, trail: [] };
}

export class Interpreter {
  readonly turn: Turn;
  readonly person: Person;
  private left = stateBound;

  constructor(turn: Turn, person: Person) {
    this.turn = turn;
    this.person = person;
  }

  /** Begins a flow in a thread of its own, or on top of one. */
  run(name: FlowName, options: RunOptions = {}): void {
    const flow = this.turn.world.flows.newest.get(name);
    if (!flow) throw new Error(`no flow ${name}`);
    const frame: Frame = {
      ...begun(this.turn, flow),
      item: options.item ?? null,
      vars: options.vars ?? {},
      returnTo: null,
    };
    const under = options.onThread ? this.thread(options.onThread) : null;
    if (under) {
      this.put({ ...under, frames: [...under.frames, frame], ask: null });
      this.raise(under.id);
      this.enter(under.id, flow.initial);
      return;
    }
    const thread: Thread = { id: frame.id, caseId: options.caseId ?? null, frames: [frame], ask: null };
    this.turn.threads = [...this.turn.threads, thread];
    this.enter(thread.id, flow.initial);
  }

  thread(id: string): Thread | null {
    return this.turn.threads.find((one) => one.id === id) ?? null;
  }

  put(thread: Thread): void {
    this.turn.threads = this.turn.threads.map((one) => (one.id === thread.id ? thread : one));
  }

  remove(id: string): void {
    this.turn.threads = this.turn.threads.filter((one) => one.id !== id);
  }

  /** Makes a thread the current one. */
  raise(id: string): void {
    const thread = this.thread(id);
    if (thread) this.turn.threads = [...this.turn.threads.filter((one) => one.id !== id), thread];
  }

  momentOf(thread: Thread, frame: Frame): Moment {
    return this.turn.moment(frame, thread.caseId, this.person, thread.ask);
  }

  /** Enters a state of the thread's top frame and goes on until something is asked, awaited or ended. */
  enter(threadId: string, stateName: StateName): void {
    this.left -= 1;
    if (this.left < 0) throw new Error('endless chain of states');
    const before = this.thread(threadId)!;
    const frame = topFrame(before)!;
    const flow = flowOf(this.turn, frame);
    const state = flow.states.get(stateName);
    if (!state) throw new Error(`no state ${flow.name}.${stateName}`);
    const old = flow.states.get(frame.state);
    if (frame.entry > 0 && old) {
      if (old.timers.length > 0) this.turn.cancelTimers(frame.id);
      if (old.quiet && !state.quiet) this.turn.releaseHeld();
    }
    const entries = this.turn.state.entries + 1;
    this.turn.state = { ...this.turn.state, entries };
    this.put({
      ...before,
      ask: null,
      frames: [...before.frames.slice(0, -1), { ...frame, state: stateName, entry: entries, since: this.turn.now }],
    });
    if (state.ask) this.raise(threadId);
    this.act(threadId, state);
    if (state.final) {
      this.end(threadId);
      return;
    }
    this.arm(threadId, state);
    if (state.decide) {
      const decision = this.turn.registry.decisions.get(state.decide);
      if (!decision) throw new Error(`no decision ${state.decide}`);
      const thread = this.thread(threadId)!;
      const said = decision.decide(this.momentOf(thread, topFrame(thread)!));
      const outcome = typeof said === 'string' ? said : said.outcome;
      if (typeof said !== 'string') this.carry(threadId, said.acts);
      if (!this.take(threadId, outcome)) throw new Error(`no transition ${outcome} in ${flow.name}.${state.name}`);
      return;
    }
    if (state.ask) {
      this.ask(threadId, state);
      return;
    }
    if (state.transitions.has('next')) this.take(threadId, 'next');
  }

  /** Takes the transition of this name in the thread's top frame. False: there is none. */
  take(threadId: string, name: string): boolean {
    const thread = this.thread(threadId);
    const frame = thread ? topFrame(thread) : null;
    if (!thread || !frame) return false;
    const state = stateOf(this.turn, frame);
    const transition = state?.transitions.get(name) ?? flowOf(this.turn, frame).anywhere.get(name);
    if (!transition) return false;
    this.follow(threadId, transition);
    return true;
  }

  /**
   * Goes on from a question by what its reader said: by that word's own transition, or by `answered` where the word is an
   * option of the question without one. Throws on a word that the question does not know.
   */
  takeAnswer(threadId: string, outcome: string): void {
    const thread = this.thread(threadId)!;
    const asked = topFrame(thread)!;
    const frame = { ...asked, vars: heardAgain(asked.vars) };
    this.put({ ...thread, frames: [...thread.frames.slice(0, -1), frame] });
    const ask = stateOf(this.turn, frame)?.ask;
    const isOption = ask?.options.some((one) => one.id === outcome) === true;
    if (this.take(threadId, outcome) || (isOption && this.take(threadId, 'answered'))) return;
    const by = ask?.reader ? `reader ${ask.reader}` : `a ${ask?.kind} question`;
    throw new Error(`no transition ${outcome} in ${frame.flow}.${frame.state}, said by ${by}`);
  }

  /** True when the frame has a transition of this name of its own. */
  has(frame: Frame, name: string): boolean {
    const state = stateOf(this.turn, frame);
    return Boolean(state?.transitions.has(name) || flowOf(this.turn, frame).anywhere.has(name));
  }

  private follow(threadId: string, transition: FlowTransition): void {
    this.act(threadId, transition);
    const thread = this.thread(threadId)!;
    const frame = topFrame(thread)!;
    if (transition.run) {
      const frames = [...thread.frames.slice(0, -1), { ...frame, returnTo: transition.target }];
      this.put({ ...thread, frames });
      this.run(transition.run, { onThread: threadId, item: frame.item, vars: frame.vars });
      return;
    }
    if (transition.flow) {
      this.goTo(threadId, transition.flow, null);
      return;
    }
    if (transition.target) this.enter(threadId, transition.target);
  }

  /** The thread's top frame goes on in another flow as it is served today, at its beginning or in this state. */
  goTo(threadId: string, name: FlowName, stateName: StateName | null): void {
    const flow = this.turn.world.flows.newest.get(name);
    if (!flow) throw new Error(`no flow ${name}`);
    const thread = this.thread(threadId)!;
    const frame = topFrame(thread)!;
    this.leave(frame);
    const next: Frame = { ...frame, ...begun(this.turn, flow) };
    this.put({ ...thread, ask: null, frames: [...thread.frames.slice(0, -1), next] });
    this.enter(threadId, stateName ?? flow.initial);
  }

  /** Timers go, and held texts come, when a frame is left for good. */
  private leave(frame: Frame): void {
    const state = stateOf(this.turn, frame);
    if (!state) return;
    if (state.timers.length > 0) this.turn.cancelTimers(frame.id);
    if (state.quiet) this.turn.releaseHeld();
  }

  private carry(threadId: string, acts: Parameters<Turn['carryOut']>[0]): void {
    const thread = this.thread(threadId)!;
    const done = this.turn.carryOut(acts, topFrame(thread)!, thread.caseId);
    this.put({ ...thread, caseId: done.caseId, frames: [...thread.frames.slice(0, -1), done.frame] });
  }

  /** Records, says, tells and asks what a state or transition names. */
  private act(threadId: string, of: FlowState | FlowTransition): void {
    for (const name of of.record) {
      const recorder = this.turn.registry.recorders.get(name);
      if (!recorder) throw new Error(`no recorder ${name}`);
      const thread = this.thread(threadId)!;
      this.carry(threadId, recorder(this.momentOf(thread, topFrame(thread)!)));
    }
    // Asked before it is said, so that what is said knows when the doctor hears of it.
    if (of.question) {
      const asking = this.thread(threadId)!;
      const top = topFrame(asking)!;
      const vars = { ...top.vars, question: this.turn.openQuestion(of.question, asking.caseId, top.item).id };
      this.put({ ...asking, frames: [...asking.frames.slice(0, -1), { ...top, vars }] });
    }
    const thread = this.thread(threadId)!;
    const frame = topFrame(thread)!;
    for (const key of of.say) {
      this.turn.say(this.person, key, {
        frame,
        caseId: thread.caseId,
        lane: laneOf(this.turn, frame),
        first: of.question?.urgency === 'now',
      });
    }
    for (const notice of of.notify) {
      this.turn.notify(notice.to, notice.text, notice.lane, thread.caseId, frame.item, frame.vars);
    }
  }

  /** Sets the timers of a frame's state (the top frame unless said), counted from the instant it was entered. */
  arm(threadId: string, state: FlowState, of: Frame | null = null): void {
    const thread = this.thread(threadId)!;
    const frame = of ?? topFrame(thread)!;
    for (const timer of state.timers) {
      const at = timerInstant(this.turn, this.momentOf(thread, frame), frame, state, timer);
      if (at === null) continue;
      this.turn.post(
        this.person.id,
        { kind: 'timer', frameId: frame.id, entry: frame.entry, name: timer.name, late: timer.late },
        { at, caseId: thread.caseId, name: timer.name, frameId: frame.id },
      );
    }
  }

  private ask(threadId: string, state: FlowState): void {
    const thread = this.thread(threadId)!;
    const frame = topFrame(thread)!;
    const last = frame.trail.at(-1);
    const passed = last?.state === state.name && last.item === frame.item;
    const isLeft = passed || traitsOf(this.turn.world.flows, frame).onlyOnward === true;
    const trail = state.noBack ? [] : isLeft ? frame.trail : [...frame.trail, { state: state.name, item: frame.item }];
    this.put({ ...thread, frames: [...thread.frames.slice(0, -1), { ...frame, trail }] });
    this.show(threadId);
  }

  /** Shows the question of a thread's top state, new or again; of a frozen case none. `inLines`: one option a line. */
  show(threadId: string, inLines = false): void {
    const before = this.thread(threadId);
    const top = before ? topFrame(before) : null;
    const state = top ? stateOf(this.turn, top) : null;
    if (!before || !top || !state?.ask) return;
    if (isFrozen(this.turn, before)) {
      this.put({ ...before, ask: null });
      if (!isReminder(this.turn, state)) sayFrozen(this.turn, this.person, before.caseId);
      return;
    }
    const ask = state.ask;
    const frame = ask.options.some((one) => one.alarm !== undefined) ? withAlarmDigits(this.turn, top) : top;
    const thread = frame === top ? before : { ...before, frames: [...before.frames.slice(0, -1), frame] };
    const own = thread.ask?.frameId === frame.id && thread.ask.entry === frame.entry && thread.ask.moved !== true;
    const repeated = own ? thread.ask : null;
    const moment = this.momentOf(thread, frame);
    const number = ask.numbered ? (this.turn.registry.values.get(ask.numbered)?.(moment) ?? '') : '';
    const secrets = secretReplies(this.turn, ask, number, repeated);
    const options = ask.options.map((one) => ({
      id: one.id,
      reply: one.alarm ? this.alarmReply(one.alarm, frame) : (secrets.get(one.id) ?? `${number}${one.reply}`),
    }));
    const item = ask.each ? frame.item : null;
    const exits = thread.caseId === null ? [] : exitsAt(flowOf(this.turn, frame), state);
    const shown: ShownAsk = {
      field: ask.field,
      item,
      kind: ask.kind,
      options: options.map((one) => ({
        ...one,
        label: this.turn.world.texts.label(this.person.locale, ask.field, one.id),
        ...(ask.typed || secrets.has(one.id) ? { typed: true as const } : {}),
      })),
      token: askToken(frame.id, frame.entry),
      ...(exits.length > 0 ? { exits } : {}),
    };
    const said = this.turn.say(this.person, state.text, {
      frame,
      caseId: thread.caseId,
      step: state.name,
      ask: shown,
      secrets: [...secrets.values()],
      ...(inLines ? { lines: options.map((one) => one.reply) } : {}),
      lane: laneOf(this.turn, frame),
      // Every check of an alarm is the same question, whichever state asks it.
      subject: `ask ${frame.id} ${state.text} ${item ?? ''}`,
    });
    const asked: OpenAsk = {
      frameId: frame.id,
      entry: frame.entry,
      field: ask.field,
      item,
      kind: ask.kind,
      options,
      askedAt: this.turn.now,
      messageId: said?.id ?? '',
      ...(repeated ? { first: repeated.first ?? { askedAt: repeated.askedAt, messageId: repeated.messageId } } : {}),
      ...(repeated?.again ? { again: true as const } : {}),
    };
    this.put({ ...thread, ask: asked });
  }

  /** What is sent for an alarm's answer in this person's language: `WORSE`, `GOING 4718`. */
  private alarmReply(answer: AlarmAnswer, frame: Frame): string {
    const [language] = this.turn.world.texts.alarmWords(this.person.locale);
    const word = (language?.answers[answer][0] ?? answer).toUpperCase();
    return provenAnswers.has(answer) ? `${word} ${digitsOf(frame.vars, answer)}` : word;
  }

  /** Ends the thread's top frame and goes on below it, or ends the thread. */
  end(threadId: string): void {
    const thread = this.thread(threadId)!;
    const frame = topFrame(thread)!;
    this.leave(frame);
    const isAlarmOver = isRaised(this.turn, frame) && this.turn.caseOf(thread.caseId)?.alarmAt === this.turn.now;
    const below = thread.frames.at(-2);
    if (!below) {
      this.remove(threadId);
      if (isAlarmOver) this.afterAlarm(thread.caseId);
      return;
    }
    // Come back once: what ends on top of it later comes back to its own question.
    const back = { ...below, returnTo: null };
    this.put({ ...thread, ask: null, frames: [...thread.frames.slice(0, -2), back] });
    // A place to come back to may be of a flow that was left since, in what was stored before this was forgotten in time.
    if (below.returnTo !== null && flowOf(this.turn, below).states.has(below.returnTo)) {
      this.enter(threadId, below.returnTo);
      return;
    }
    // What was agreed before the alarm or while it went on is asked about anew, instead of its old question.
    if (isAlarmOver && this.askAnew(threadId, back)) return;
    if (this.takeHeard(threadId, back)) return;
    if (isAlarmOver && this.take(threadId, 'alarm.past')) return;
    const state = stateOf(this.turn, below);
    // Somebody who sent STOP is asked nothing but about their alarm.
    if (state?.ask && this.person.state !== 'stopped') {
      this.raise(threadId);
      this.show(threadId);
    }
  }

  /** An alarm beside the conversation about its patient is over. */
  private afterAlarm(caseId: string | null): void {
    for (const one of this.turn.threads) if (caseId && one.caseId === caseId) this.take(one.id, 'alarm.past');
  }

  /** A doctor's yes to a needle that came while the alarm went on is forgotten. False: none did. */
  private askAnew(threadId: string, back: Frame): boolean {
    const { heard, ...vars } = back.vars;
    if (typeof heard !== 'string' || !isYesToNeedle(heard) || !this.has(back, 'alarm.past')) return false;
    const thread = this.thread(threadId)!;
    this.put({ ...thread, frames: [...thread.frames.slice(0, -1), { ...back, vars }] });
    return this.take(threadId, 'alarm.past');
  }

  /** Goes on by a doctor's answer that came while something else lay on top. False: none did. */
  private takeHeard(threadId: string, back: Frame): boolean {
    const { heard, ...vars } = back.vars;
    if (typeof heard !== 'string') return false;
    const thread = this.thread(threadId)!;
    this.put({ ...thread, frames: [...thread.frames.slice(0, -1), { ...back, vars }] });
    return this.take(threadId, `answer.${heard}`) || this.take(threadId, 'answer');
  }

  /** Trail up to the question before this one; null: there is none to go back to. */
  private before(frame: Frame): Frame['trail'] | null {
    const isOnTrail = traitsOf(this.turn.world.flows, frame).onlyOnward !== true;
    const before = isOnTrail ? frame.trail.slice(0, -1) : frame.trail;
    return before.length === 0 ? null : before;
  }

  /** True: `back` leads somewhere. */
  hasBack(thread: Thread): boolean {
    const frame = topFrame(thread);
    return frame !== null && this.before(frame) !== null;
  }

  /** One question back, within the flow. False: there is none to go back to. */
  back(threadId: string): boolean {
    const thread = this.thread(threadId);
    const frame = thread ? topFrame(thread) : null;
    if (!thread || !frame) return false;
    const before = this.before(frame);
    const to = before?.at(-1);
    if (!before || !to) return false;
    const trail = before.slice(0, -1);
    // A yes to what is answered anew would be read as a yes to the new answer.
    if (stateOf(this.turn, frame)?.question) {
      this.carry(threadId, closeQuestion(this.momentOf(thread, frame), 'taken-back', 'doctor.taken-back'));
    }
    const now = this.thread(threadId)!;
    this.put({ ...now, frames: [...now.frames.slice(0, -1), { ...frame, trail, item: to.item }] });
    this.enter(threadId, to.state);
    return true;
  }
}
