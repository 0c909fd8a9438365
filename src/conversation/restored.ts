import { durationOf } from './programme.ts';
import type { World } from './world.ts';

/** Whether codes may be about that were issued after the backup from which this line was brought back. */
export function restoredLately({ restoredAt, programme }: World, now: number): boolean {
  return restoredAt !== null && now - restoredAt < durationOf(programme, 'restore-look-back');
}
