/** What engine, store and line must know of a flow or a state, by its traits and never by its name. */
import type { CaseStatus } from '../case/case.ts';
import { rememberedOf } from '../clinical/remembered.ts';
import type { Flow, FlowSet, FlowState } from './flow.ts';

/** What `B` may still change from later on: findings, slides, what the patient was told, a good result told, seen elsewhere. */
export const undoables = ['findings', 'slides', 'told', 'reviewed', 'seen', 'referral'] as const;
export type Undoable = (typeof undoables)[number];

export type EndsWhen = 'seen-again' | 'put-right' | 'released' | 'not-counted' | 'referred-anew' | 'here-again';

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
  /** Over once the patient was examined again, the laboratory has put the glass right, a frozen case goes on, the laboratory's result does not count, the patient is referred anew, or is here again after all. */
  readonly endsWhen?: EndsWhen;
  /** `B` with nothing before it leads from here to the question that `redoes` the same. */
  readonly undoes?: Undoable;
  /** Nobody of the site is on the line: the day to look again comes back until somebody is. */
  readonly unattended?: 'look-again';
  /** The status whose cases are carried on in this flow when their conversation is gone. */
  readonly carries?: CaseStatus;
  /** A YES with digits may be an answer here. */
  readonly confirms?: 'yes';
  /** Answering by digits is learnt here, before a patient waits. */
  readonly teaches?: 'answers';
}

/** Traits of one state. */
export interface StateTraits extends Pick<FlowTraits, 'loads' | 'endsWhen' | 'undoes'> {
  /** Where what was settled is asked again. */
  readonly redoes?: Undoable;
  /** The patient is to be on the way to a hospital: the words of an open alarm are heard. */
  readonly alarm?: 'emergency';
  /** The timer of the day that was agreed: it fires at once when the patient is here before. */
  readonly resumesOn?: string;
  /** Asks about what was just answered: nothing to come back to once that is settled. */
  readonly onlyOnward?: true;
  /** A text that came twice is no answer here before it was asked about: a wrong one would hurt. */
  readonly doubled?: 'asked';
  /** Records what was told, seen or looked at: with another patient in hand the answer says of whom it is. */
  readonly ofWhom?: 'said';
  /** SAY is offered with its question: the patient is to be told something here. */
  readonly offers?: 'say';
}

/** Of a frame: those of its flow and those of its state, which win; but what ends the one ends the other too. */
export type Traits = Omit<FlowTraits, 'alarm' | 'endsWhen'> &
  Omit<StateTraits, 'alarm' | 'endsWhen'> & {
    readonly alarm?: FlowTraits['alarm'] | StateTraits['alarm'];
    readonly endsWhen?: readonly EndsWhen[];
  };

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
  if (!flow) return {};
  const state = flow.states.get(frame.state) ?? own?.states.get(frame.state);
  if (!state) return merge(flow.traits, {});
  return merged(state, flow);
}

/** Asked for several times a text; flows and their states are never changed. */
const merged = rememberedOf((state: FlowState, flow: Flow): Traits => merge(flow.traits, state.traits));

function merge({ endsWhen: ofWhole, ...flow }: FlowTraits, { endsWhen: ofPart, ...state }: StateTraits): Traits {
  const endsWhen = [ofWhole, ofPart].filter((one) => one !== undefined);
  return { ...flow, ...state, ...(endsWhen.length > 0 ? { endsWhen } : {}) };
}

/** Traits of a flow by its name, for one that nobody walks yet. */
export function flowTraits(flows: FlowSet, name: string): FlowTraits {
  return flows.newest.get(name)?.traits ?? {};
}

/** Where this is settled, and asked again when it is to be changed; null where no flow has such a state. */
export function whereRedone(flows: FlowSet, what: Undoable): { readonly flow: Flow; readonly state: FlowState } | null {
  for (const flow of flows.newest.values()) {
    const state = [...flow.states.values()].find((one) => one.traits.redoes === what);
    if (state) return { flow, state };
  }
  return null;
}
