import { dutyOf } from '../../../src/case/duty.ts';
import { dutyTimes } from '../../../src/conversation/duties.ts';
import type { Invariant } from './invariant.ts';

const dayMs = 86_400_000;

/** Closed, or owed by a named person who can be reached, with a time. */
export const owed: Invariant = {
  name: 'a case is closed, or owed by somebody who can be reached, with a time',
  broken: ({ of, endedAt, reachable, programme }) => {
    // Practice has no patient who waits: nobody is called for it.
    if (of.status === 'closed' || of.practice) return [];
    const duty = dutyTimes(programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
    if (!duty) return [`${of.status}: nobody owes anything`];
    if (duty.dueAt < endedAt - 2 * dayMs) {
      return [`${of.status}: due ${new Date(duty.dueAt).toISOString()}, and nobody was reminded`];
    }
    return reachable(of.ownerId) ? [] : [`${of.status}: carried by ${of.ownerId}, who cannot be reached`];
  },
};
