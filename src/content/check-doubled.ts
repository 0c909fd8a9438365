/** A text that is delivered twice must not deny, consent, postpone, let go or record an act at the next question. */
import type { FlowAsk, FlowOption, FlowState } from '../conversation/flow.ts';
import type { FlowSource } from './load.ts';
import { type Follower, MayFollow } from './may-follow.ts';
import type { Problem } from './problem.ts';
import { onlyAdds } from './reply-weight.ts';

/** Questions that can come directly after one, by state, each with the answers that lead there: ids, `a+b`, `any` number. */
export type AskedAfter = Readonly<Record<string, Readonly<Record<string, readonly string[]>>>>;

/**
 * One problem for each pair of questions of which a doubled answer of the first would act at the second. Where the second is
 * asked next whatever anybody decides, and in the pairs of `after`, it needs other replies. Where it may be asked next, by
 * any way through what is decided between, other replies or the trait `doubled`: a pair that no script meets is one too.
 * So it is where the same question is asked of the next lump. Where any number is an answer there is nothing but the trait.
 */
export function checkDoubled(sources: readonly FlowSource[], after: AskedAfter): readonly Problem[] {
  const asking: ReadonlyMap<string, Asking> = new Map(
    sources.flatMap((source) =>
      [...source.flow.states.values()].flatMap((state) =>
        state.ask === null ? [] : [[`${source.flow.name}.${state.name}`, { source, state, ask: state.ask }] as const],
      ),
    ),
  );
  const may = new MayFollow(sources.map((one) => one.flow));
  const numbers = [...asking.values()].flatMap(numberProblem);
  const pairs = [...asking].flatMap(([name, before]) => {
    // Of the next lump the same question cannot have other replies.
    const met = [...Object.entries(after[name] ?? {}), ...directly(before.source, name, before.ask)].filter(
      ([next]) => next !== name,
    );
    const known = met.flatMap(([next, answers]) => problemsAt(name, before, asking.get(next), answers, otherReplies));
    const told = new Set(met.map(([next]) => next));
    const perhaps = perNext(may.after(before.source.flow, before.state)).filter(([next]) => !told.has(next));
    return [
      ...known,
      ...perhaps.flatMap(([next, answers]) => {
        const found = asking.get(next);
        if (found?.state.traits.doubled === 'asked') return [];
        return problemsAt(name, before, found, answers, `${otherReplies}, or ${trait}`);
      }),
    ];
  });
  return [...numbers, ...pairs];
}

/** Any digits are an answer to a question of numbers: `5` for warfarin, sent twice, would say an INR of 5. */
function numberProblem({ source, state, ask }: Asking): readonly Problem[] {
  if (!numeric.has(ask.kind) || state.traits.doubled === 'asked') return [];
  const path = ['states', state.name, 'ask'];
  const what = 'a doubled answer of any question before would be a number here';
  return [{ file: source.file, line: source.lineOf(path), path: path.join('.'), what, todo: `use ${trait}` }];
}

const numeric: ReadonlySet<string> = new Set(['number', 'diameters']);
const trait = 'traits: { doubled: asked }';

const otherReplies = 'use other replies';

/** Answers by the question that they may lead to. */
function perNext(followers: readonly Follower[]): readonly (readonly [string, readonly string[]])[] {
  const all = new Map<string, Set<string>>();
  for (const { answers, next } of followers) {
    for (const one of next) all.set(one, new Set([...(all.get(one) ?? []), ...answers]));
  }
  return [...all].map(([next, answers]) => [next, [...answers]]);
}

function problemsAt(
  name: string,
  before: Asking,
  found: Asking | undefined,
  answers: readonly string[],
  todo: string,
): readonly Problem[] {
  if (!found) return [];
  const replies = answers.flatMap((answer) => acting(before.ask, answer, found.ask));
  if (replies.length === 0) return [];
  const path = ['states', found.state.name, 'ask'];
  const what = `a doubled answer of ${name} would say ${[...new Set(replies)].join(', ')}`;
  const { file } = found.source;
  return [{ file, line: found.source.lineOf(path), path: path.join('.'), what, todo }];
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
  const weighty = next.options.filter((one) => isPrinted(one) && !onlyAdds(one.id, next.field));
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
