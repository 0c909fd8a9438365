import type { CaseEvent } from '../../../src/case/events.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

/** What a known stop may come to: nobody is sent back for steps that cannot change it. */
const asksForSteps = new Set(['examine-first', 'sample', 'optional', 'sample-elsewhere']);

/** The score alone says that no needle comes of it: what only stops a needle is then no reason, and a hand is needed still. */
function noneInQuestion({ decision, policy, assessment }: CaseEvent & { readonly type: 'decided' }): boolean {
  const nodules = (assessment as { nodules?: readonly { policies: Record<string, { decision: string }> }[] } | null)
    ?.nodules;
  const says = nodules?.map(({ policies }) => policies[policy]!.decision) ?? [];
  return (
    decision === 'examine-first' && says.length > 0 && says.every((one) => ['follow-up', 'no-sampling'].includes(one))
  );
}

/** Noisy breathing, a hot nodule, a lump that beats, or what bleeds too long is said as the reason, whatever else was not done. */
export const stopSaid: Invariant = {
  name: 'a known stop is said as such, and no step that cannot change it is asked for',
  broken: (walked) =>
    recordsOf(walked).flatMap(({ record, after }) => {
      const { event } = record;
      if (event.type !== 'decided' || !asksForSteps.has(event.decision) || noneInQuestion(event)) return [];
      const { bleeding, dangerSigns, inr, lump, platelets, scan } = after.answers;
      const stops = [
        Array.isArray(dangerSigns) && dangerSigns.includes('stridor') ? 'noisy breathing' : '',
        typeof inr === 'number' && inr > 3 ? 'an INR over 3' : '',
        Array.isArray(lump) && lump.includes('pulsates') ? 'a lump that beats' : '',
        scan === 'hot' ? 'a hot nodule' : '',
        Array.isArray(bleeding) && bleeding.includes('bleeding-disorder') ? 'a bleeding disorder' : '',
        typeof platelets === 'number' && platelets < 20 ? 'too few platelets' : '',
      ];
      return stops.filter((one) => one !== '').map((one) => `${event.decision} in spite of ${one}`);
    }),
};
