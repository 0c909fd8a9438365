import type { Composition, Echogenicity, Focus, Margin, Shape } from '../findings.ts';

/** The policies that this product has read in their sources. The order is the order of print. */
export const policyIds = ['common-practice', 'acr-2017', 'eu-2017', 'ata-2015'] as const;
export type PolicyId = (typeof policyIds)[number];

/** What one policy advises for one nodule, from least to most. `undetermined`: the policy is silent here. */
export const outcomes = ['no-sampling', 'follow-up', 'undetermined', 'optional', 'sample'] as const;
export type Outcome = (typeof outcomes)[number];

/** The edge of a nodule: its margin, or `extension` where it breaks out of the gland, which replaces the margin. */
export type Edge = Margin | 'extension';

/** A nodule of which everything that a table may ask for has been seen (or been filled in by one completion). */
export interface SeenNodule {
  readonly composition: Composition;
  /** Small cysts through the whole nodule, not only most of it; read for spongiform nodules. */
  readonly spongiformWhole: boolean;
  /** The solid part sits off centre; read for mixed nodules. */
  readonly eccentric: boolean;
  readonly echogenicity: Echogenicity;
  /** A mostly bright nodule holds a smaller, mildly dark part. */
  readonly hypoechoicPart: boolean;
  readonly shape: Shape;
  readonly edge: Edge;
  readonly foci: readonly Focus[];
}

/** The sizes a table may ask for, in mm, unrounded. */
export interface SeenSize {
  /** Largest diameter. */
  readonly mm: number;
  /** Largest diameter of the solid part of a mixed nodule; `null` = not measured. */
  readonly solidPartMm: number | null;
}

/** One policy: the look of a nodule gives a grade, grade and size give the outcome. */
export interface Policy<Grade extends string | number = string | number> {
  readonly id: PolicyId;
  /** Every grade, least worrying first. */
  readonly grades: readonly Grade[];
  /** Every size in mm at which an outcome can change. */
  readonly thresholdsMm: readonly number[];
  readonly grade: (seen: SeenNodule) => Grade;
  readonly outcome: (grade: Grade, size: SeenSize) => Outcome;
  /** The grade as the policy itself prints it; `null` where it has no level for it. */
  readonly level: (grade: Grade) => string | null;
}

/**
 * A policy whose grades are not named by type, for tables of policies. Throws on a grade that is not one of its own.
 */
export function anyGrade<Grade extends string | number>(policy: Policy<Grade>): Policy {
  const own = (grade: string | number): Grade => {
    const found = policy.grades.find((one) => one === grade);
    if (found === undefined) throw new Error(`no grade ${grade} in ${policy.id}`);
    return found;
  };
  return {
    ...policy,
    outcome: (grade, size) => policy.outcome(own(grade), size),
    level: (grade) => policy.level(own(grade)),
  };
}

/** Lobulated, irregular and spiculated edges: the three that every table counts as irregular. */
export const isIrregular = (edge: Edge): edge is 'lobulated' | 'irregular' | 'spiculated' =>
  edge === 'lobulated' || edge === 'irregular' || edge === 'spiculated';
