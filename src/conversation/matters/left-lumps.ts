/** Lumps and nodes that were to be sampled, and no needle went into them: somebody owes each a day. */
import type { Case } from '../../case/case.ts';
import { type Aim, aimsOf, sameTarget, targetOf } from '../../case/target.ts';
import type { Matter, Moment } from '../moment.ts';
import { targetsWords } from './target.ts';

/** What was proposed and no needle has been in. */
function leftOf(of: Case): readonly Aim[] {
  const sampled = of.specimens.filter((one) => one.attempts.length > 0).map((one) => one.target);
  return aimsOf(of).filter((aim) => {
    const target = targetOf(aim);
    return target === null || !sampled.some((one) => sameTarget(one, target));
  });
}

export const leftLumps: Matter = {
  decisions: {
    'lumps-left': {
      outcomes: ['yes', 'no'],
      decide: (m: Moment) => (m.case && leftOf(m.case).length > 0 ? 'yes' : 'no'),
    },
  },
  recorders: {
    // Asked beside the parcel and whatever else comes, a result first: it must not stand before them.
    'ask-lumps-day': (m) => [
      {
        do: 'post',
        personId: m.person.id,
        what: { kind: 'run', flow: 'left-lumps', caseId: m.case!.id, item: null, vars: {} },
      },
    ],
  },
  values: {
    lumpsLeft: { of: (m) => (m.case ? targetsWords(m, leftOf(m.case)) : ''), sample: 'LEFT lump, 30 mm' },
  },
};
