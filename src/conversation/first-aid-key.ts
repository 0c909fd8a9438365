import { dayText, localTime } from './schedule.ts';
import type { Address } from './world.ts';

/** Stands for the first aid that an unknown sender got on one day: it is given once. */
export function firstAidKey(from: Address, at: number): string {
  return `first-aid:${from.channel}:${from.address}:${dayText(localTime(at, 'UTC'))}`;
}
