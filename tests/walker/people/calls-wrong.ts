/** A worker calls a case wrong, and takes it back by the digits that only this phone reads. */
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import { saidIn } from '../../support/claims/pattern.ts';
import type { Spoken, Town } from '../town.ts';

/** More often while the neck is watched: the watch goes on, and the case is frozen when it is over. */
const oftener: Readonly<Record<string, number>> = { aftercare: 4, labelling: 2 };

/** WRONG instead of an answer; null: nobody says so now. */
export function callsWrong({ chance }: Town, { flow, caseId }: OutboundMessage, often: number): Spoken | null {
  if (caseId === null || flow === 'freeze' || !chance.happens(often * (oftener[flow] ?? 1))) return null;
  return { text: 'WRONG', caseId, slip: 'word' };
}

/** It was a mistake, and whoever reads the text has the digits; now and then others than those. */
export function takesBack(town: Town, { id }: Person, messages: readonly OutboundMessage[]): void {
  const { chance } = town;
  for (const { text, caseId } of messages) {
    const digits = saidIn(text, 'freeze.frozen')?.release;
    if (digits === undefined || chance.happens(0.6)) continue;
    const said = chance.happens(0.1) ? '0000' : digits;
    town.plan(id, chance.minutes(1, 90), () => ({ text: `YES ${said}`, caseId, slip: 'word' }));
  }
}
