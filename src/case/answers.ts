/** Every name under which a case holds an answer, with the type of its value. The compiler refuses any other. */
import type { Hindrance } from '../clinical/before-needle.ts';
import type {
  Capsule,
  Echogenicity,
  LumpSign,
  Margin,
  Probe,
  Sex,
  Shape,
  Site,
  Unknown,
  YesNo,
} from '../clinical/findings.ts';
import type { Reason } from '../clinical/reasons.ts';
import type { SupplyStop, Technique } from '../clinical/supplies.ts';
import type { AskedOfItem, Field, FieldValues } from '../generated/fields.ts';
import type { OptionId } from '../generated/option-ids.ts';
import type { EarlierNodule, EarlierSample } from './earlier.ts';
import type { CaseEvent, Json } from './events.ts';
import type { AlikeCase } from './same-patient.ts';
import { asJson } from './stored.ts';

type AnsweredEvent = Extract<CaseEvent, { readonly type: 'answered' }>;

/** Answers of the case that no question has for its field: readers, recorders and the one-message form write them. */
interface OwnCaseValues {
  /** What was answered to each question that asks a part of a list, with "cannot tell" too; see `askedParts`. */
  readonly 'asked.breathing': readonly string[];
  readonly 'asked.story': readonly string[];
  readonly 'asked.lump': readonly string[];
  readonly 'asked.family': readonly string[];
  readonly 'asked.bleeding': readonly string[];
  readonly 'alarm-allowed': true;
  /** Instant of an alarm in the case before, ms. */
  readonly 'alarm-before': number;
  readonly alike: readonly AlikeCase[];
  /** Another day: `asking` until decided anew, then whether that came to the same. */
  readonly 'asked-anew': 'asking' | 'same' | 'changed';
  /** Reasons against a needle that a doctor knew and allowed one all the same. */
  /** Id of the cyst that a doctor has chosen to have emptied. */
  readonly drain: string;
  readonly 'doctor-allows': readonly Reason[];
  readonly earlier: readonly EarlierSample[];
  readonly 'earlier-sizes': readonly EarlierNodule[];
  /** Where a lump was felt. */
  readonly felt: readonly Site[];
  /** What the needle was stopped for want of; empty = it is there now. */
  readonly lacking: readonly SupplyStop[];
  /** The patient refuses, or has left before the needle, and nothing is settled yet. */
  readonly left: 'refuses' | 'gone' | 'not-done' | 'later';
  /** The parcel is lost, and the patient was sent to the hospital instead. */
  readonly parcel: 'referred';
  readonly 'label.born': string;
  readonly 'label.name': string;
  readonly lump: readonly (LumpSign | Unknown)[];
  readonly 'needle-allowed': readonly Hindrance[];
  /** Ids of the nodules that were measured, `n1`, largest first as they were sent. */
  readonly nodules: readonly string[];
  readonly otherThinner: boolean;
  readonly 'patient.ageYears': number;
  readonly 'patient.birthYear': number;
  readonly 'patient.initials': string;
  readonly 'patient.sex': Sex | Unknown;
  readonly 'sos-sign': OptionId<'sos-sign'>;
  readonly technique: Technique;
  readonly thinnerKind: readonly string[];
  readonly 'ultrasound.here': YesNo;
  readonly 'ultrasound.mhz': number;
  readonly 'ultrasound.probe': Probe | Unknown;
  readonly 'ultrasound.standoff': YesNo | boolean;
}

/** The same of one nodule. */
interface OwnItemValues {
  /** What was named of what shines in it, with "cannot see all" too. */
  readonly 'asked-bright': readonly string[];
  /** A composition that did not fit the look was asked once more. */
  readonly 'inside-again': 'yes';
  readonly capsule: Capsule | Unknown;
  readonly echogenicity: Echogenicity | Unknown;
  readonly hypoechoicPart: boolean | Unknown;
  readonly margin: Margin | Unknown;
  /** Least and greatest, mm. */
  readonly mmRange: readonly number[];
  /** Two diameters of which the third was not said, mm. */
  readonly mmTwo: readonly number[];
  readonly shape: Shape | Unknown;
}

/** Questions answered by an option that the one-message form answers with true or false. */
type SaidAsTruth = 'eccentric' | 'overactiveSigns' | 'spongiformWhole';

/** What is recorded where nobody answered. */
interface Unanswered {
  readonly 'after-limit': FieldValues['after-limit'] | 'silent';
  /** Left before it was looked at, and a doctor let the watch end. */
  readonly neck: FieldValues['neck'] | 'unknown';
}

export type AnswerValues = Omit<FieldValues, SaidAsTruth | keyof Unanswered> & {
  readonly [F in SaidAsTruth]: FieldValues[F] | boolean;
} & Unanswered &
  OwnCaseValues &
  OwnItemValues;

/** Dotted path of an answer, without the item that it is about. */
export type AnswerField = Field | keyof OwnCaseValues | keyof OwnItemValues;

/** Answers that are about one nodule or specimen. */
export type ItemField = AskedOfItem | keyof OwnItemValues;

/** Answers that are about the case as a whole. */
export type CaseField = Exclude<AnswerField, ItemField>;

/** What may stand in a case; null = said before, and counts no more. */
export type AnswerValue<F extends AnswerField> = AnswerValues[F] | null;

/** Name under which an answer is kept: `patient.sex`, `n1.mm`. */
export type AnswerKey = CaseField | `${string}.${ItemField}`;

/** Answers by the name under which they are kept. */
export type Answers = { readonly [K in AnswerKey]?: Json };

/** Fields whose value is of this type. */
export type FieldOf<Value, F extends AnswerField = AnswerField> = F extends AnswerField
  ? AnswerValues[F] extends Value
    ? F
    : never
  : never;

/** What one reply answers besides its own question: fields of the case or of the item in question, or of items by their key. */
export type FurtherAnswers = { readonly [F in AnswerField]?: AnswerValue<F> } & {
  readonly [F in ItemField as `${string}.${F}`]?: AnswerValue<F>;
};

/** Name under which a field of this item is kept: `n1.mm`. */
export function itemKey<F extends ItemField>(item: string, field: F): `${string}.${F}` {
  return `${item}.${field}`;
}

/** Names under which a case holds answers. */
export function answeredKeys(of: { readonly answers: Answers } | null): readonly AnswerKey[] {
  return Object.keys(of?.answers ?? {}) as AnswerKey[];
}

/** True: an answer about one nodule, `n1.mm`. */
export function isOfNodule(key: AnswerKey): key is `n${number}.${ItemField}` {
  return /^n\d+\./.test(key);
}

/** The event that records an answer about the case. */
export function answered<F extends CaseField>(field: F, value: AnswerValue<F>): AnsweredEvent {
  return { type: 'answered', field, item: null, value: asJson(value) };
}

/** The event that records an answer about one nodule or specimen. */
export function answeredOf<F extends ItemField>(field: F, item: string | null, value: AnswerValue<F>): AnsweredEvent {
  return { type: 'answered', field, item, value: asJson(value) };
}
