/** Coordinators and doctors end cases by hand: by code, name or the number of the list, confirmed with the digits. */
import type { Person } from '../../../src/conversation/world.ts';
import type { OutboundMessage } from '../../../src/line/ports.ts';
import { saidIn } from '../../support/claims/pattern.ts';
import type { Town } from '../town.ts';
import type { Recorded } from '../transcript.ts';
import type { Habits } from './habits.ts';

const dayMinutes = 24 * 60;

/** Of some cases that are opened or over somebody says END, in days. */
export function endsSome(town: Town, { record, caseId }: Recorded, who: readonly string[], habits: Habits): void {
  const { chance } = town;
  const { type } = record.event;
  if (type !== 'opened' && type !== 'closed') return;
  // What is over already is ended seldom.
  if (!chance.happens(habits.endings * (type === 'closed' ? 0.2 : 1))) return;
  const one = chance.pick(who);
  // Before a needle, mostly: then a coordinator may end it alone.
  const after = chance.happens(0.6) ? chance.minutes(5, 6 * 60) : chance.minutes(10, 9 * dayMinutes);
  const how = chance.pick(['code', 'name', 'number', 'number'] as const);
  // The list first, the number it is under at once: whichever case stands there.
  if (how === 'number') town.plan(one, after, () => ({ text: 'LIST', slip: 'word' }));
  town.plan(one, after + 60_000, () => {
    const of = town.cases.get(caseId)!;
    const said = { code: of.specimens[0]?.code ?? of.tag, name: of.tag, number: String(1 + chance.below(3)) };
    return { text: `END ${said[how]} moved to another town`, caseId: how === 'number' ? null : caseId, slip: 'word' };
  });
}

/** The digits that the line asked for; others, none, or nothing at all now and then. */
export function confirmsEnd(town: Town, { id }: Person, messages: readonly OutboundMessage[]): void {
  const { chance } = town;
  for (const { text, caseId } of messages) {
    const digits = saidIn(text, 'end.confirm')?.digits;
    if (digits === undefined) continue;
    const said = { right: `YES ${digits}`, wrong: 'YES 0000', no: '0', nothing: null };
    const answer = said[chance.weighted({ right: 12, wrong: 2, no: 2, nothing: 2 })];
    if (answer !== null) town.plan(id, chance.minutes(1, 45), () => ({ text: answer, caseId, slip: 'word' }));
  }
}
