/** When the first doctor hears of a question. */
import type { Programme } from './programme.ts';
import { inDaytime } from './schedule.ts';

/** The instant at which a question of this urgency, opened at `openedAt`, goes out, ms: what can wait does not wake anybody. */
export function firstAskedAt(
  { urgencies, zone, daytime }: Pick<Programme, 'urgencies' | 'zone' | 'daytime'>,
  { urgency, openedAt }: { readonly urgency: string; readonly openedAt: number },
): number {
  return urgencies[urgency]?.quiet === true ? inDaytime(openedAt, zone, daytime) : openedAt;
}
