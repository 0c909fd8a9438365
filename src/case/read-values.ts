/** What the named readers of answers record: for each field that a reader answers, the value in the case. */
import type { BleedingItem, DangerSign, Focus, Risk, Unknown } from '../clinical/findings.ts';
import type { OptionId } from '../generated/option-ids.ts';
import type { Json } from './events.ts';

/** A day, `2030-03-04`. */
type DayText = string;

/** `npm run names` takes the types of `FieldValues` from here: a field of a reader that is missing does not compile. */
export interface ReadValues {
  readonly appointment: DayText;
  readonly bleeding: readonly (BleedingItem | Unknown)[];
  readonly checks: readonly OptionId<'checks'>[];
  readonly dangers: readonly OptionId<'dangers'>[];
  readonly composition: OptionId<'composition'>;
  readonly dangerSigns: readonly (DangerSign | Unknown)[];
  readonly examined: boolean;
  readonly features: readonly OptionId<'features'>[];
  readonly 'findings-check': OptionId<'findings-check'>;
  /** Instant, ms. */
  readonly 'fixed-time': number | Unknown;
  readonly fixedLump: OptionId<'fixedLump'>;
  readonly foci: readonly (Focus | Unknown)[];
  readonly inr: number | Unknown;
  /** Hours since it was taken. */
  readonly inrAgeHours: number | Unknown;
  /** Hours. */
  readonly ivAntiplateletHours: number | Unknown;
  readonly 'label-person': 'given' | 'by-hand' | 'other-year';
  /** Empty: felt, and neither of them. */
  readonly lump: readonly OptionId<'lump'>[];
  /** Largest first as they were sent. */
  readonly mm: readonly number[];
  /** Initials, sex, year or age, as they are recorded one by one too. */
  readonly patient: Readonly<Record<string, Json>>;
  readonly 'patient.pregnantWeeks': number | Unknown;
  /** 10^9 per litre. */
  readonly platelets: number | Unknown;
  readonly 'referral-day': DayText;
  readonly repeat: OptionId<'repeat'>;
  readonly 'repeat-day': DayText;
  /** A name. */
  readonly reporter: string;
  readonly 'review-day': DayText;
  readonly rimExtrusion: OptionId<'rimExtrusion'>;
  readonly risks: readonly (Risk | Unknown)[];
  /** A name. */
  readonly sampler: string;
  readonly 'sampling-day': DayText;
  readonly solidPartMm: number | Unknown;
  readonly supplies: readonly OptionId<'supplies'>[];
  readonly told: OptionId<'told'>;
  readonly tsh: OptionId<'tsh'>;
  readonly 'ultrasound.done': boolean;
}
