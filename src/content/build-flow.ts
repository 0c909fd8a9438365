import type {
  Flow,
  FlowAsk,
  FlowNotice,
  FlowOption,
  FlowQuestion,
  FlowState,
  FlowTransition,
  QuestionAbout,
} from '../conversation/flow.ts';
import { alarmAnswers, provenAnswers } from '../conversation/hearing/alarm-words.ts';
import type { FlowName } from '../generated/flow-names.ts';
import type { StateName } from '../generated/state-names.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { structureHash } from './flow-json.ts';
import type { FlowFile, NoticeFile, QuestionFile, StateFile, TransitionFile } from './flow-schema.ts';

/** Makes the flow of a file whose shape was checked. Text keys become `file.key`, options get their digits. */
export function buildFlow(file: FlowFile, lineOf: (path: readonly string[]) => number): Flow {
  // Names of a package that is not this one are only ever checked and drawn.
  const name = file.flow as FlowName;
  const flow = {
    name,
    initial: file.initial as StateName,
    traits: file.traits,
    states: new Map(
      Object.entries(file.states).map(([stateName, state]) => [
        stateName,
        buildState(name, stateName, state, lineOf(['states', stateName])),
      ]),
    ),
    anywhere: buildTransitions(name, file.anywhere),
  };
  return { ...flow, hash: structureHash(flow) };
}

/** `key` of this flow's own file, or `file.key` as it is. That there is such a text, the checker says. */
function fullKey(flow: string, key: string): TextKey {
  return (key.includes('.') ? key : `${flow}.${key}`) as TextKey;
}

function buildState(flow: string, name: string, state: StateFile, line: number): FlowState {
  return {
    name: name as StateName,
    say: state.say.map((key) => fullKey(flow, key)),
    record: state.record,
    notify: state.notify.map((one) => buildNotice(flow, one)),
    question: state.question && buildQuestion(state.question),
    ask: state.ask && buildAsk(state.ask),
    text: fullKey(flow, state.text ?? name),
    decide: state.decide,
    timers: Object.entries(state.timers).map(([timer, value]) => ({ name: timer, ...value })),
    transitions: buildTransitions(flow, state.transitions),
    final: state.final,
    quiet: state.quiet,
    noBack: state.noBack,
    traits: state.traits,
    line,
  };
}

function buildTransitions(
  flow: string,
  all: Readonly<Record<string, TransitionFile>>,
): ReadonlyMap<string, FlowTransition> {
  return new Map(
    Object.entries(all).map(([key, one]) => [
      key,
      {
        record: one.record,
        say: one.say.map((text) => fullKey(flow, text)),
        notify: one.notify.map((notice) => buildNotice(flow, notice)),
        question: one.question && buildQuestion(one.question),
        run: one.run as FlowName | null,
        flow: one.flow as FlowName | null,
        target: one.target as StateName | null,
      },
    ]),
  );
}

function buildNotice(flow: string, notice: NoticeFile): FlowNotice {
  return { to: notice.to, text: fullKey(flow, notice.text), lane: notice.lane };
}

function buildQuestion(question: QuestionFile): FlowQuestion {
  const replies = defaultReplies(question.options.map(([id]) => id));
  return {
    urgency: question.urgency,
    about: question.about as QuestionAbout,
    options: question.options.map(([id, said], index) => {
      const [reply = replies[index]!, care] = said?.split(' ') ?? [];
      return { id, reply, care: care === 'care' };
    }),
  };
}

function buildAsk(ask: NonNullable<StateFile['ask']>): FlowAsk {
  const replies = defaultReplies(ask.options.map(([id]) => id));
  const options = ask.options.map(([id, said], index): FlowOption => {
    if (said === 'secret') return { id, reply: '', secret: true };
    const alarm = alarmAnswers.find((one) => said === `alarm ${one}`);
    if (alarm) return { id, reply: '', secret: provenAnswers.has(alarm), alarm };
    return { id, reply: said ?? replies[index]!, secret: false };
  });
  const { field, kind, reader, each, numbered, unrecorded, typed } = ask;
  return { field, kind, options, reader, each, numbered, unrecorded, ...(typed ? { typed } : {}) };
}

/** `none` and `no` are 0, `unknown` is 9, the others 1, 2, 3 … in order; past 8 there is none (empty), the checker says so. */
function defaultReplies(ids: readonly string[]): readonly string[] {
  let next = 0;
  return ids.map((id) => {
    if (id === 'none' || id === 'no') return '0';
    if (id === 'unknown') return '9';
    next += 1;
    return next <= 8 ? String(next) : '';
  });
}
