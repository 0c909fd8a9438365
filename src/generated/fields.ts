// Written by `npm run names` from locales/en and flows; a test compares.
import type { ReadValues } from '../case/read-values.ts';
import type { OptionId } from './option-ids.ts';

/** Answers that a question of a flow records, with what is recorded. */
export interface FieldValues {
  readonly 'after-alarm': OptionId<'after-alarm'>;
  readonly 'after-fluid': OptionId<'after-fluid'>;
  readonly 'after-limit': OptionId<'after-limit'>;
  readonly 'after-unwell': OptionId<'after-unwell'>;
  readonly 'all-dried': OptionId<'all-dried'>;
  readonly appointment: ReadValues['appointment'];
  readonly bleeding: ReadValues['bleeding'];
  readonly book: OptionId<'book'>;
  readonly calling: OptionId<'calling'>;
  readonly changedSinceInr: OptionId<'changedSinceInr'>;
  readonly checks: ReadValues['checks'];
  readonly composition: ReadValues['composition'];
  readonly container: OptionId<'container'>;
  readonly 'ct-tube': OptionId<'ct-tube'>;
  readonly cyst: OptionId<'cyst'>;
  readonly dangerSigns: ReadValues['dangerSigns'];
  readonly dangers: ReadValues['dangers'];
  readonly eccentric: OptionId<'eccentric'>;
  readonly examined: ReadValues['examined'];
  readonly 'examined-now': OptionId<'examined-now'>;
  readonly features: ReadValues['features'];
  readonly 'findings-check': ReadValues['findings-check'];
  readonly 'fixed-time': ReadValues['fixed-time'];
  readonly fixedLump: ReadValues['fixedLump'];
  readonly foci: ReadValues['foci'];
  readonly 'go-ahead': OptionId<'go-ahead'>;
  readonly inr: ReadValues['inr'];
  readonly inrAgeHours: ReadValues['inrAgeHours'];
  readonly ivAntiplateletHours: ReadValues['ivAntiplateletHours'];
  readonly 'lab-phoned': OptionId<'lab-phoned'>;
  readonly 'label-check': OptionId<'label-check'>;
  readonly 'label-person': ReadValues['label-person'];
  readonly level: OptionId<'level'>;
  readonly lump: ReadValues['lump'];
  readonly mm: ReadValues['mm'];
  readonly neck: OptionId<'neck'>;
  readonly 'no-needle': OptionId<'no-needle'>;
  readonly 'node-look': OptionId<'node-look'>;
  readonly 'node-pot': OptionId<'node-pot'>;
  readonly 'node-pulse': OptionId<'node-pulse'>;
  readonly 'node-rest': OptionId<'node-rest'>;
  readonly 'node-tube': OptionId<'node-tube'>;
  readonly 'none-usable': OptionId<'none-usable'>;
  readonly overactiveSigns: OptionId<'overactiveSigns'>;
  readonly palpable: OptionId<'palpable'>;
  readonly patient: ReadValues['patient'];
  readonly 'patient.pregnant': OptionId<'patient.pregnant'>;
  readonly 'patient.pregnantWeeks': ReadValues['patient.pregnantWeeks'];
  readonly place: OptionId<'place'>;
  readonly plan: OptionId<'plan'>;
  readonly platelets: ReadValues['platelets'];
  readonly pressure: OptionId<'pressure'>;
  readonly 'referral-again': OptionId<'referral-again'>;
  readonly 'referral-day': ReadValues['referral-day'];
  readonly 'referral-seen': OptionId<'referral-seen'>;
  readonly repeat: ReadValues['repeat'];
  readonly 'repeat-day': ReadValues['repeat-day'];
  readonly reporter: ReadValues['reporter'];
  readonly review: OptionId<'review'>;
  readonly 'review-day': ReadValues['review-day'];
  readonly rimExtrusion: ReadValues['rimExtrusion'];
  readonly risks: ReadValues['risks'];
  readonly 'said-back': OptionId<'said-back'>;
  readonly 'same-patient': OptionId<'same-patient'>;
  readonly sampler: ReadValues['sampler'];
  readonly 'sampling-day': ReadValues['sampling-day'];
  readonly scan: OptionId<'scan'>;
  readonly seen: OptionId<'seen'>;
  readonly site: OptionId<'site'>;
  readonly skin: OptionId<'skin'>;
  readonly solidPartMm: ReadValues['solidPartMm'];
  readonly spongiformWhole: OptionId<'spongiformWhole'>;
  readonly supplies: ReadValues['supplies'];
  readonly 'supplies-stop': OptionId<'supplies-stop'>;
  readonly told: ReadValues['told'];
  readonly 'told-benign': OptionId<'told-benign'>;
  readonly tsh: ReadValues['tsh'];
  readonly 'ultrasound.done': ReadValues['ultrasound.done'];
  readonly unusable: OptionId<'unusable'>;
  readonly 'while-asked': OptionId<'while-asked'>;
}

/** Dotted path of an answer. */
export type Field = keyof FieldValues;

/** Those that are asked about one nodule or specimen. */
export type AskedOfItem =
  | 'after-alarm'
  | 'after-fluid'
  | 'after-limit'
  | 'after-unwell'
  | 'all-dried'
  | 'appointment'
  | 'book'
  | 'calling'
  | 'composition'
  | 'ct-tube'
  | 'eccentric'
  | 'features'
  | 'foci'
  | 'lab-phoned'
  | 'label-check'
  | 'level'
  | 'mm'
  | 'node-look'
  | 'node-pulse'
  | 'node-rest'
  | 'node-tube'
  | 'none-usable'
  | 'palpable'
  | 'place'
  | 'repeat'
  | 'repeat-day'
  | 'reporter'
  | 'rimExtrusion'
  | 'seen'
  | 'site'
  | 'solidPartMm'
  | 'spongiformWhole'
  | 'told'
  | 'told-benign'
  | 'unusable';
