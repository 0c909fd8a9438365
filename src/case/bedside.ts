/**
 * "The patient is here", once for everybody who must know. How near a status keeps the patient is said for each of them,
 * so that a new status does not compile without it; what is asked of it are the sets below. Our convention.
 */
import { type CaseStatus, caseStatuses } from './case.ts';

/**
 * `needle`: a needle is in or was just out, nobody leaves the patient. `made-ready`: sits there to be sampled now.
 * `seen`: is being examined or waits for the decision. `away`: went home.
 */
type Nearness = 'needle' | 'made-ready' | 'seen' | 'away';

const nearness: Readonly<Record<CaseStatus, Nearness>> = {
  findings: 'seen',
  decision: 'seen',
  readiness: 'made-ready',
  sampling: 'needle',
  labelling: 'needle',
  aftercare: 'needle',
  posting: 'away',
  posted: 'away',
  received: 'away',
  action: 'away',
  closed: 'away',
};

function within(...near: readonly Nearness[]): ReadonlySet<CaseStatus> {
  return new Set(caseStatuses.filter((status) => near.includes(nearness[status])));
}

/** The needle's own hour: an alarm without a patient is about this one, and no other duty comes before it. */
export const needleStatuses = within('needle');

/** The sitting for the needle: a question about it cannot wait, somebody holds a syringe or would. */
export const sittingStatuses = within('needle', 'made-ready');

/** Decided or not, and no needle yet: a patient who comes again goes on in this case. */
export const beforeNeedleStatuses = within('seen', 'made-ready');

/** The whole visit: a case that stops here stops with the patient in the room. */
export const visitStatuses = within('needle', 'made-ready', 'seen');
