/** A text that is delivered twice must not deny, consent, postpone, let go or record an act at the next question. */
import type { FlowAsk, FlowOption, FlowState } from '../conversation/flow.ts';
import type { FlowSource } from './load.ts';
import type { Problem } from './problem.ts';
import { onlyAdds } from './reply-weight.ts';

/** Questions that can come directly after one, by state, each with the answers that lead there: ids, `a+b`, `any` number. */
export type AskedAfter = Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;

/**
 * One problem for each pair of questions of which a doubled answer of the first would act at the second. The pairs are those
 * of `after`, and each question that a transition asks next whatever anybody decides.
 */
export function checkDoubled(sources: readonly FlowSource[], after: AskedAfter): readonly Problem[] {
  const asking: ReadonlyMap<string, Asking> = new Map(
    sources.flatMap((source) =>
      [...source.flow.states.values()].flatMap((state) =>
        state.ask === null ? [] : [[`${source.flow.name}.${state.name}`, { source, state, ask: state.ask }] as const],
      ),
    ),
  );
  return [...asking].flatMap(([name, before]) => {
    const direct = directly(before.source, name, before.ask);
    const pairs = [...Object.entries(after[name] ?? {}), ...direct];
    return pairs.flatMap(([next, answers]) => {
      const found = asking.get(next);
      if (!found) return [];
      const replies = answers.flatMap((answer) => acting(before.ask, answer, found.ask));
      if (replies.length === 0) return [];
      const path = ['states', found.state.name, 'ask'];
      const what = `a doubled answer of ${name} would say ${[...new Set(replies)].join(', ')}`;
      const { file } = found.source;
      return [{ file, line: found.source.lineOf(path), path: path.join('.'), what, todo: 'use other replies' }];
    });
  });
}

interface Asking {
  readonly source: FlowSource;
  readonly state: FlowState;
  readonly ask: FlowAsk;
}

/** Questions of the same flow that an answer leads to without anything decided between. */
function directly(source: FlowSource, name: string, ask: FlowAsk): readonly (readonly [string, readonly string[]])[] {
  const { flow } = source;
  const state = flow.states.get(name.slice(flow.name.length + 1))!;
  return [...state.transitions].flatMap(([key, { target, run }]) => {
    const to = target === null || run !== null ? undefined : flow.states.get(target);
    if (!to?.ask || to === state) return [];
    // Where a reader answers it may lead elsewhere: what it does lead to stands in the list.
    if (key === 'answered' && ask.reader !== null) return [];
    const answers = key === 'answered' ? [...ask.options.map((one) => one.id), 'any'] : [key];
    return [[`${flow.name}.${to.name}`, answers] as const];
  });
}

/** What this answer, sent once more, would say at the next question beyond adding a finding. */
function acting(before: FlowAsk, answer: string, next: FlowAsk): readonly string[] {
  if (before.numbered !== null || next.numbered !== null) return [];
  const weighty = next.options.filter((one) => isPrinted(one) && !onlyAdds(one.id));
  const said = (one: FlowOption): string => `${one.reply} (${one.id})`;
  if (answer === 'any') return weighty.filter(({ reply }) => isCount(reply, before.reader)).map(said);
  const replies = answer.split('+').map((id) => before.options.find((one) => one.id === id)?.reply);
  if (replies.includes(undefined)) return [];
  return weighty.filter(({ reply }) => isSame(reply, replies as string[], next.kind === 'choices')).map(said);
}

/** Several answers in one reply act only where the next question takes several too. */
function isSame(reply: string, replies: readonly string[], several: boolean): boolean {
  return several ? replies.includes(reply) || replies.join('') === reply : replies.join('') === reply;
}

/** People of a shared phone are numbered from 1. */
const isCount = (reply: string, reader: string | null): boolean =>
  /^\d{1,3}$/u.test(reply) && !(reader === 'member' && reply === '0');

function isPrinted(option: FlowOption): boolean {
  return !option.secret && option.alarm === undefined && option.reply !== '';
}
