/** A programme's own choices (`flows/programme.yaml`): limits, durations, ladders, governing policy, laboratories. */

import type { SystemName } from '../clinical/cytology/categories.ts';
import type { FluidWay } from '../clinical/fluid.ts';
import type { PolicyId } from '../clinical/policies/policy.ts';
import type { LaboratoryStain } from '../clinical/supplies.ts';

/** What a laboratory may want done with slides after the minimum time in alcohol. */
export const alcoholWays = ['stay-in-alcohol', 'coat', 'glycerine', 'dry-agreed'] as const;
/** Tests on the rinse of a needle that only some laboratories do. */
export const assays = ['thyroglobulin', 'calcitonin'] as const;
/** Whether the patient's name is written on the label by hand, or asked for in a chat. */
export const privacyModes = ['by-hand', 'in-chat'] as const;
/** What becomes of photos that are sent by a chat: nothing, or they are shown to the doctors there. */
export const pictureModes = ['refused', 'to-doctor'] as const;

export interface Laboratory {
  readonly id: string;
  readonly name: string;
  readonly address: string;
  readonly stain: LaboratoryStain;
  /** Slides wanted for each specimen. */
  readonly slides: number;
  /** What happens after the minimum time in alcohol, as agreed with this laboratory. */
  readonly alcohol: (typeof alcoholWays)[number];
  /** What it wants fluid in; `ask`: nobody has asked it. */
  readonly fluid: FluidWay;
  readonly system: SystemName;
  /** What it tests beside looking at cells; nothing else is asked of it. */
  readonly assays: readonly (typeof assays)[number][];
  /** Days of the week it works, 1 = Monday. */
  readonly open: readonly number[];
  readonly marking: string;
}

export interface Site {
  readonly id: string;
  readonly name: string;
  readonly labId: string;
  /** IANA zone, e.g. `Africa/Nairobi`. */
  readonly zone: string;
  /** Ultrasound can be used while the needle is in. */
  readonly guidance: boolean;
  /** Where its patients are referred. */
  readonly hospital: string;
  /** Where a patient goes at night, at most 36 letters. */
  readonly night: string;
  /** Voice number outside the line. */
  readonly voiceNumber: string;
}

export interface Urgency {
  /** Pause before each next rung, ms; the last repeats. */
  readonly climbMs: readonly number[];
  /** Climbs in daytime only. */
  readonly daytime: boolean;
  /** Also the first doctor is asked in daytime only. */
  readonly quiet: boolean;
}

/** What one segment costs the programme: sent by the line, and sent by a person where the line pays for it. */
export interface Price {
  /** As money is written: `EUR`. */
  readonly currency: string;
  readonly perSegmentOut: number;
  readonly perSegmentIn: number;
}

export interface Programme {
  readonly id: string;
  readonly name: string;
  readonly zone: string;
  /** Languages that its people may choose, English too; nobody is offered another, nor are its texts loaded. */
  readonly languages: 'all' | readonly string[];
  readonly policy: PolicyId;
  /** Other policies shown to the doctor, and to the worker where they disagree. */
  readonly shown: readonly PolicyId[];
  readonly privacy: (typeof privacyModes)[number];
  readonly pictures: (typeof pictureModes)[number];
  /** Whether a spot on a PET scan is asked for beside the family. */
  readonly asksPet: boolean;
  /** Voice number, referral hospital and place to go at night outside the line, where a site has none of its own. */
  readonly voiceNumber: string;
  readonly hospital: string;
  readonly night: string;
  /** Hours for which an INR counts where nothing is new. */
  readonly inrHours: number;
  readonly daytime: { readonly from: number; readonly to: number };
  /** Hour of the coordinators' morning text, in each one's own zone. */
  readonly digest: number;
  readonly sites: readonly Site[];
  readonly laboratories: readonly Laboratory[];
  readonly urgencies: Readonly<Record<string, Urgency>>;
  /** Named durations, ms. Flows name them; numbers stand nowhere else. */
  readonly durations: Readonly<Record<string, number>>;
  /** Named limits: counts. */
  readonly limits: Readonly<Record<string, number>>;
  /** Absent = no money is reckoned. */
  readonly price?: Price | undefined;
  /** The word that people put in front of every SMS, where several services share one number; from the settings. Absent = none. */
  readonly keyword?: string | undefined;
}

/** The site by id; an unknown one gets the first site's settings under its own name, and the programme's places to go. */
export function siteOf(programme: Programme, siteId: string): Site {
  const known = programme.sites.find((one) => one.id === siteId);
  if (known) return known;
  const { hospital, night, voiceNumber } = programme;
  return { ...programme.sites[0]!, id: siteId, name: siteId, hospital, night, voiceNumber };
}

/** The laboratory a site sends to. */
export function laboratoryOf(programme: Programme, siteId: string): Laboratory {
  const site = siteOf(programme, siteId);
  return programme.laboratories.find((one) => one.id === site.labId) ?? programme.laboratories[0]!;
}

/** A named duration, ms. Throws on a name that the programme does not have: the checker refuses such flows. */
export function durationOf(programme: Programme, name: string): number {
  const ms = programme.durations[name];
  if (ms === undefined) throw new Error(`no duration ${name} in the programme`);
  return ms;
}

/** A named limit. Throws like `durationOf`. */
export function limitOf(programme: Programme, name: string): number {
  const count = programme.limits[name];
  if (count === undefined) throw new Error(`no limit ${name} in the programme`);
  return count;
}
