/** What was asked about a result that does not count any more, whoever of the laboratory has said so. */
import type { Case } from '../case/case.ts';
import { endThreads } from './carry-out.ts';
import type { Frame } from './state.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** It takes no answer and is not shown again: it would be about nothing. Whoever is on the line is told. */
export function letVoidGo(turn: Turn): void {
  for (const { caseId, frames } of turn.threads) {
    const of = turn.caseOf(caseId);
    const frame = of && frames.find((one) => isAboutVoid(turn, of, one));
    if (!of || !frame) continue;
    endThreads(turn, { do: 'end-threads', caseId: of.id, item: frame.item, traits: { endsWhen: 'not-counted' } }, '');
  }
}

function isAboutVoid(turn: Turn, of: Case, frame: Frame): boolean {
  const specimen = of.specimens.find((one) => one.id === frame.item);
  if (!specimen || specimen.results.length > 0) return false;
  return traitsOf(turn.world.flows, frame).endsWhen?.includes('not-counted') === true;
}
