import type { Case } from '../../../src/case/case.ts';
import { type Duty, dutyOf } from '../../../src/case/duty.ts';
import { caseLaboratory } from '../../../src/conversation/case-laboratory.ts';
import { dutyTimes } from '../../../src/conversation/duties.ts';
import type { Person } from '../../../src/conversation/world.ts';
import type { Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';

const dayMs = 86_400_000;

/** Closed, or owed by a person who can be reached, with a time, and with somebody else who hears when it is late. */
export const owed: Invariant = {
  name: 'a case is closed, or owed by somebody who can be reached, with a time',
  broken: (walked) => {
    const { of, endedAt, programme } = walked;
    // Practice has no patient who waits: nobody is called for it.
    if (of.status === 'closed' || of.practice) return [];
    const duty = dutyTimes(programme, of.siteId, (msOf, dayStart) => dutyOf(of, msOf, dayStart));
    if (!duty) return [`${of.status}: nobody owes anything`];
    if (duty.dueAt < endedAt - 2 * dayMs) {
      return [`${of.status}: due ${new Date(duty.dueAt).toISOString()}, and nobody was reminded`];
    }
    const silent = ([duty.owner, duty.escalation] as const).filter((role) => !isHeardBy(walked, of, role));
    return silent.map((role) => `${of.status}: ${duty.what} of the ${role}, and none can be reached`);
  },
};

const isAway: ReadonlySet<string> = new Set(['posted', 'received', 'action']);

/** Joined, neither stopped nor suspended, with a number to write to. */
const isOnLine = ({ state, addresses }: Person): boolean => state === 'joined' && addresses.length > 0;

/** Whether there is somebody of this role whom the line would tell of this case. */
function isHeardBy({ roster, programme }: Walked, of: Case, role: Duty['owner']): boolean {
  const here = roster.filter((one) => one.roles.includes(role) && isOnLine(one));
  if (role === 'worker') {
    const atSite = here.filter(({ siteId }) => siteId === of.siteId);
    // Who left has handed over what they had in hand; what is at the laboratory is told to whoever is there. A clinic without
    // anybody is the coordinators'.
    if (atSite.length > 0) return isAway.has(of.status) || atSite.some(({ id }) => id === of.ownerId);
    return roster.some((one) => one.roles.includes('coordinator') && isOnLine(one));
  }
  if (role !== 'lab') return here.length > 0;
  const { id } = caseLaboratory(programme, of);
  return here.some(({ siteId }) => siteId === id);
}
