/** A flow as steps with numbers, and as the lines between them: what is drawn, before it is drawn. */
import { writeDuration } from '../content/duration.ts';
import type { Flow, FlowState, FlowTransition } from '../conversation/flow.ts';
import type { Programme } from '../conversation/programme.ts';

/** What the words of a drawing are made of. */
export interface Wording {
  readonly programme: Pick<Programme, 'durations'>;
  /** Label of an option of a field. */
  label(field: string, option: string): string;
}

export interface Arrow {
  /** What leads along: an answer with its digits, a decision, a time. */
  readonly on: string;
  /** What happens on the way. */
  readonly notes: readonly string[];
  /** Number of the step; null = out of the flow. */
  readonly to: number | null;
}

export interface Step {
  /** From 1 in the order of the file; 0 = from every step. */
  readonly number: number;
  readonly name: string;
  readonly does: readonly string[];
  readonly isFirst: boolean;
  readonly isLast: boolean;
  readonly arrows: readonly Arrow[];
}

/** All steps of a flow; what holds in every one of them comes last. */
export function stepsOf(flow: Flow, wording: Wording): readonly Step[] {
  const numbers = new Map([...flow.states.keys()].map((name, at) => [name, at + 1]));
  const arrow = (state: FlowState | null, key: string, one: FlowTransition): Arrow => {
    const stays = state === null ? null : numbers.get(state.name)!;
    const to = one.flow !== null ? null : one.target === null ? stays : (numbers.get(one.target) ?? null);
    return { on: causeOf(state, key, wording), notes: notesOf(one), to };
  };
  const steps = [...flow.states.values()].map((state, at) => ({
    number: at + 1,
    name: state.name as string,
    does: deedsOf(state, wording),
    isFirst: state.name === flow.initial,
    isLast: state.final,
    arrows: [...state.transitions].map(([key, one]) => arrow(state, key, one)),
  }));
  if (flow.anywhere.size === 0) return steps;
  const everywhere = [...flow.anywhere].map(([key, one]) => arrow(null, key, one));
  return [
    ...steps,
    { number: 0, name: 'from every step', does: [], isFirst: false, isLast: false, arrows: everywhere },
  ];
}

function deedsOf(state: FlowState, { programme, label }: Wording): readonly string[] {
  const { ask, decide, timers } = state;
  const options = (ask?.options ?? []).map((one) => `${one.reply} ${label(ask!.field, one.id)}`.trim());
  return [
    ...(decide === null ? [] : [`decides: ${decide}`]),
    ...notesOf(state),
    ...(ask === null ? [] : [`asks: ${ask.field}${options.length === 0 ? '' : ` (${options.join('; ')})`}`]),
    ...timers.map(({ name, after, at }) => `clock ${name}: ${whenOf(after, at, programme)}`),
    ...(state.quiet ? ['gloves on: other texts wait'] : []),
  ];
}

function whenOf(after: string | null, at: string | null, programme: Wording['programme']): string {
  if (after === null) return `at ${at ?? 'once'}`;
  const ms = programme.durations[after];
  return `after ${after}${ms === undefined ? '' : ` (${writeDuration(ms)})`}`;
}

/** What is said and done in a state or on the way out of it. */
function notesOf(one: FlowState | FlowTransition): readonly string[] {
  return [
    ...one.say.map((key) => `says ${key}`),
    ...one.notify.map(({ to, text }) => `texts ${to}: ${text}`),
    ...(one.question ? [`asks the doctor: ${one.question.about}, ${one.question.urgency}`] : []),
    ...('run' in one && one.run !== null ? [`walks ${one.run} first`] : []),
    ...('flow' in one && one.flow !== null ? [`goes on in ${one.flow}`] : []),
  ];
}

/** What a transition is taken on, in words. */
function causeOf(state: FlowState | null, key: string, { label }: Wording): string {
  const option = state?.ask?.options.find(({ id }) => id === key);
  if (option) return `${option.reply} ${label(state!.ask!.field, key)}`.trim();
  const own: Readonly<Record<string, string>> = {
    answered: 'any answer',
    unreadable: 'cannot be read',
    next: 'at once',
    unanswered: 'no answer',
    answer: 'any other answer of the doctor',
  };
  if (own[key] !== undefined) return own[key];
  const [of = '', ...rest] = key.split('.');
  if (of === 'timer') return `clock ${rest.join('.')}`;
  if (rest.length === 0) return state?.decide === null || state === null ? `answer: ${key}` : `decided: ${key}`;
  const said = label(of, rest.join('.'));
  return of === 'answer' ? `the doctor: ${said}` : `${of}: ${said}`;
}

/** A line beside the boxes: from the first of its rows to the last, in a column of its own there. Rows are places in `steps`. */
export interface Lane {
  readonly column: number;
  readonly first: number;
  readonly last: number;
  /** Row where its arrow ends; all arrows to one step share a line. */
  readonly to: number;
  readonly from: readonly number[];
}

/** Lines for all arrows that lead neither on to the next step nor back into their own. Short lines stand near the boxes. */
export function lanesOf(steps: readonly Step[]): readonly Lane[] {
  const spans = steps.flatMap(({ number }, to) => {
    const from = steps.flatMap((one, at) =>
      at !== to && !leadsOn(one, number) && one.arrows.some((arrow) => number > 0 && arrow.to === number) ? [at] : [],
    );
    return from.length === 0 ? [] : [{ to, from, first: Math.min(to, ...from), last: Math.max(to, ...from) }];
  });
  const columns: { readonly first: number; readonly last: number }[][] = [];
  const placed = spans.toSorted((a, b) => a.last - a.first - (b.last - b.first) || a.first - b.first);
  return placed.map((span) => {
    const isFree = (taken: (typeof columns)[number]) =>
      taken.every((one) => one.last < span.first || span.last < one.first);
    const found = columns.findIndex(isFree);
    const column = found < 0 ? columns.length : found;
    columns[column] = [...(columns[column] ?? []), span];
    return { ...span, column };
  });
}

/** Whether the step is followed by the one of this number, to which a straight arrow leads. */
export function leadsOn(step: Step, number: number): boolean {
  return step.number > 0 && step.number + 1 === number;
}
