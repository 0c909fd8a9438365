/** Texts that the network took before their question was there. */
import { durationOf } from './programme.ts';
import type { OpenAsk } from './state.ts';
import type { Turn } from './turn.ts';

/**
 * Sent before the question reached the network, while another question was open before it: not its answer. A network
 * clock that runs ahead of ours says nothing.
 */
export function isLate(turn: Turn, ask: OpenAsk, networkAt: number | null): boolean {
  const { programme, handedAt } = turn.world;
  if (networkAt === null || turn.state.previousAskAt === null) return false;
  if (networkAt > turn.now + durationOf(programme, 'clock-offset')) return false;
  const first = ask.first ?? ask;
  const handed = handedAt[first.messageId] ?? first.askedAt;
  return networkAt < handed - durationOf(programme, 'network-before-ask');
}
