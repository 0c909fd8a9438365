/** A text that its network delivered twice, under two ids: the second one is not taken for the next question's answer. */
import { markOf } from './hearing/copies.ts';
import { topFrame } from './interpret.ts';
import { durationOf } from './programme.ts';
import type { OpenAsk, Thread } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** An answer that was taken: its words as a number, and when it was sent, ms. */
export interface TakenAnswer {
  readonly mark: number;
  readonly at: number;
}

/** The answer that is taken now, to know its double by. */
export function taken(turn: Turn, text: string, networkAt: number | null): TakenAnswer {
  return { mark: markOf(text), at: sentAt(turn, networkAt) };
}

/**
 * The same words as the answer before, sent within the programme's `double-window` of it or before this question was
 * reported to be on the phone: they may be that answer once more. Asked about where a wrong answer hurts (trait
 * `doubled`); elsewhere two equal answers are two, and so are two that nobody knows. What was asked about is an answer when
 * it comes again.
 */
export function isDouble(turn: Turn, asking: Thread, text: string, networkAt: number | null): boolean {
  const { taken: before } = turn.state;
  const ask = asking.ask!;
  if (
    before === undefined ||
    ask.again ||
    isNotKnown(ask, text) ||
    turn.event.kind !== 'text' ||
    turn.world.quotedToken !== null
  )
    return false;
  if (traitsOf(turn.world.flows, topFrame(asking)).doubled !== 'asked' || before.mark !== markOf(text)) return false;
  const at = sentAt(turn, networkAt);
  return pauseSince(turn, before, at) < durationOf(turn.world.programme, 'double-window') || at < shownAt(turn, ask);
}

/** A network clock that runs ahead of ours says nothing. */
function sentAt(turn: Turn, networkAt: number | null): number {
  const ahead = turn.now + durationOf(turn.world.programme, 'clock-offset');
  return networkAt === null || networkAt > ahead ? turn.now : networkAt;
}

function pauseSince(turn: Turn, before: TakenAnswer, at: number): number {
  const told = turn.event.kind === 'text' ? turn.event.pauseMs : undefined;
  return told ?? Math.abs(at - before.at);
}

/** When the question was reported to be on the phone; at no time where the network has not said. */
function shownAt(turn: Turn, ask: OpenAsk): number {
  return turn.world.reportedAt[(ask.first ?? ask).messageId] ?? Number.NEGATIVE_INFINITY;
}

/** That it is not known denies nothing and records nothing: many a question is answered so one after the other. */
function isNotKnown({ options }: OpenAsk, text: string): boolean {
  return options.some(({ id, reply }) => id === 'unknown' && reply === text.trim());
}
