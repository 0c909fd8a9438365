/** What engine, store and line must know of a flow or a state, by its traits and never by its name. */
import type { CaseStatus } from '../case/case.ts';
import type { FlowSet } from './flow.ts';

/** Traits of a whole flow. What is left out is not so. */
export interface FlowTraits {
  /** `raised`: an alarm with first aid, whatever state it is in. `offered`: first aid for words that silence makes one. */
  readonly alarm?: 'raised' | 'offered';
  /** `before`: the patient is being made ready. `needle`: a needle was or may be in, and its question stays on top. */
  readonly bedside?: 'before' | 'needle';
  /** Answers are taken although somebody called the case wrong. */
  readonly whileFrozen?: 'goes-on';
  /** What the store reads along: the patient's cases after this one. */
  readonly loads?: 'later-cases';
  /** Over once the patient was examined again, or the laboratory has put the glass right. */
  readonly endsWhen?: 'seen-again' | 'put-right';
  /** Nobody of the site is on the line: the day to look again comes back until somebody is. */
  readonly unattended?: 'look-again';
  /** The status whose cases are carried on in this flow when their conversation is gone. */
  readonly carries?: CaseStatus;
  /** Answering by digits is learnt here, before a patient waits. */
  readonly teaches?: 'answers';
}

/** Traits of one state. */
export interface StateTraits extends Pick<FlowTraits, 'loads' | 'endsWhen'> {
  /** The patient is to be on the way to a hospital: the words of an open alarm are heard. */
  readonly alarm?: 'emergency';
  /** The timer of the day that was agreed: it fires at once when the patient is here before. */
  readonly resumesOn?: string;
  /** Asks about what was just answered: nothing to come back to once that is settled. */
  readonly onlyOnward?: true;
  /** A text that came twice is no answer here before it was asked about: a wrong one would hurt. */
  readonly doubled?: 'asked';
}

/** Of a frame: those of its flow and those of its state, which win. */
export type Traits = Omit<FlowTraits, 'alarm'> &
  Omit<StateTraits, 'alarm'> & { readonly alarm?: FlowTraits['alarm'] | StateTraits['alarm'] };

/** As much of a frame as its traits hang on. */
interface Place {
  readonly flow: string;
  readonly hash: string;
  readonly state: string;
}

/**
 * Traits of a frame. They are no part of a structure: whoever walks an older one has the traits of the newest flow of that
 * name. A flow or a state that the newest no longer has keeps those it was saved with.
 */
export function traitsOf(flows: FlowSet, frame: Place | null): Traits {
  if (!frame) return {};
  const own = flows.byHash.get(frame.hash);
  const flow = flows.newest.get(frame.flow) ?? own;
  const state = flow?.states.get(frame.state) ?? own?.states.get(frame.state);
  return { ...flow?.traits, ...state?.traits };
}

/** Traits of a flow by its name, for one that nobody walks yet. */
export function flowTraits(flows: FlowSet, name: string): FlowTraits {
  return flows.newest.get(name)?.traits ?? {};
}
