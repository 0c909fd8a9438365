// Written by `npm run names` from locales/en and flows; a test compares.
import type { Json } from '../case/events.ts';
import type { OptionId } from './option-ids.ts';

/** Answers that a question of a flow records, with what is recorded. */
export interface FieldValues {
  readonly 'after-alarm': OptionId<'after-alarm'>;
  readonly 'after-limit': OptionId<'after-limit'>;
  readonly 'after-unwell': OptionId<'after-unwell'>;
  readonly 'all-dried': OptionId<'all-dried'>;
  readonly appointment: Json;
  readonly bleeding: Json;
  readonly calling: OptionId<'calling'>;
  readonly checks: Json;
  readonly composition: Json;
  readonly container: OptionId<'container'>;
  readonly dangerSigns: Json;
  readonly eccentric: OptionId<'eccentric'>;
  readonly examined: Json;
  readonly 'examined-now': OptionId<'examined-now'>;
  readonly features: Json;
  readonly 'findings-check': Json;
  readonly fixedLump: Json;
  readonly foci: Json;
  readonly 'go-ahead': OptionId<'go-ahead'>;
  readonly inr: Json;
  readonly ivAntiplateletHours: Json;
  readonly 'lab-phoned': OptionId<'lab-phoned'>;
  readonly 'label-check': OptionId<'label-check'>;
  readonly 'label-person': Json;
  readonly mm: Json;
  readonly neck: OptionId<'neck'>;
  readonly 'none-usable': OptionId<'none-usable'>;
  readonly overactiveSigns: OptionId<'overactiveSigns'>;
  readonly palpable: OptionId<'palpable'>;
  readonly patient: Json;
  readonly 'patient.pregnant': OptionId<'patient.pregnant'>;
  readonly 'patient.pregnantWeeks': Json;
  readonly plan: OptionId<'plan'>;
  readonly platelets: Json;
  readonly pressure: OptionId<'pressure'>;
  readonly 'referral-again': OptionId<'referral-again'>;
  readonly 'referral-day': Json;
  readonly 'referral-seen': OptionId<'referral-seen'>;
  readonly repeat: Json;
  readonly 'repeat-day': Json;
  readonly reporter: Json;
  readonly review: OptionId<'review'>;
  readonly 'review-day': Json;
  readonly rimExtrusion: Json;
  readonly risks: Json;
  readonly 'same-patient': OptionId<'same-patient'>;
  readonly sampler: Json;
  readonly 'sampling-day': Json;
  readonly scan: OptionId<'scan'>;
  readonly seen: OptionId<'seen'>;
  readonly skin: OptionId<'skin'>;
  readonly solidPartMm: Json;
  readonly spongiformWhole: OptionId<'spongiformWhole'>;
  readonly supplies: readonly OptionId<'supplies'>[];
  readonly told: Json;
  readonly 'told-benign': OptionId<'told-benign'>;
  readonly tsh: OptionId<'tsh'>;
  readonly 'ultrasound.done': Json;
  readonly unusable: OptionId<'unusable'>;
  readonly 'while-asked': OptionId<'while-asked'>;
}

/** Dotted path of an answer. */
export type Field = keyof FieldValues;
