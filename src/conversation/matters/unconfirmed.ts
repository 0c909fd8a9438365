/** Results of a laboratory's person who left the line before confirming them: nobody's YES files them any more. */
import { specimenOf } from '../../case/case.ts';
import { type Interpreter, topFrame } from '../interpret.ts';
import { traitsOf } from '../traits.ts';
import type { Turn } from '../turn.ts';
import { endReadBack } from './confirm.ts';

/**
 * Each read-back that is open at this person lapses at once: no timer of a phone that is gone asks again. The coordinators
 * phone the laboratory, and whoever is still there may send the result anew; the category is told to neither.
 */
export function lapseReadBacks(turn: Turn, interpreter: Interpreter): void {
  const vars = { who: interpreter.person.name };
  for (const thread of turn.threads) {
    const frame = topFrame(thread);
    const confirms = traitsOf(turn.world.flows, frame).confirms !== undefined;
    const of = confirms ? turn.caseOf(thread.caseId) : null;
    const specimen = of ? specimenOf(of, frame?.item ?? null) : null;
    if (!of || !specimen) continue;
    endReadBack(turn, interpreter, of.id, specimen.id);
    // Replaced, or confirmed by somebody else: another read-back counts now.
    if (specimen.readBack?.at !== frame?.vars.readBackAt) continue;
    turn.record(of.id, { type: 'read-back-dropped', specimen: specimen.id, why: 'lapsed' });
    turn.notify('coordinators', 'read-back.left-for-coordinator', 'notice', of.id, specimen.id, vars);
    turn.notify('lab', 'read-back.left-for-lab', 'notice', of.id, specimen.id, vars);
  }
}
