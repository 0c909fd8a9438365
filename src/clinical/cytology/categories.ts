/** Reporting systems that a laboratory may use. */
const RESULT_SYSTEMS = ['thy', 'bethesda', 'tir'] as const;
/** One of {@link RESULT_SYSTEMS}. */
export type ResultSystem = (typeof RESULT_SYSTEMS)[number];

/** The systems as they are written. */
export const systemNames = { thy: 'Thy', bethesda: 'Bethesda', tir: 'TIR' } as const satisfies Record<
  ResultSystem,
  string
>;
export type SystemName = (typeof systemNames)[ResultSystem];

/** RCPath G089, Guidance on the reporting of thyroid cytology specimens, 2nd edition, January 2016. */
export const THY_CODES = ['Thy1', 'Thy1c', 'Thy2', 'Thy2c', 'Thy3a', 'Thy3f', 'Thy4', 'Thy5'] as const;
/** One of {@link THY_CODES}. */
export type ThyCode = (typeof THY_CODES)[number];

/** Bethesda System for Reporting Thyroid Cytopathology, 2023 edition (Ali et al., Thyroid 2023;33:1039-1044). */
export const BETHESDA_NUMERALS = ['I', 'II', 'III', 'IV', 'V', 'VI'] as const;
/** One of {@link BETHESDA_NUMERALS}. */
export type BethesdaNumeral = (typeof BETHESDA_NUMERALS)[number];
/** A Bethesda category with its system's name, since its number alone is ambiguous. */
export type BethesdaCode = `Bethesda ${BethesdaNumeral}`;

/** Italian consensus SIAPEC-AIT 2014 (tables: Insights Imaging 2021, table 1; Adv Med 2019:3932721, table 1). */
export const TIR_CODES = ['TIR1', 'TIR1C', 'TIR2', 'TIR3A', 'TIR3B', 'TIR4', 'TIR5'] as const;
/** One of {@link TIR_CODES}. */
export type TirCode = (typeof TIR_CODES)[number];

/** A category as a laboratory says it. */
export type CytologyCode = ThyCode | BethesdaCode | TirCode;

/** What a category comes to in Thy; a family where the other system does not say which of two it is. */
export type CanonicalCategory = ThyCode | 'Thy1/1c' | 'Thy2/2c';

/** Which system a code belongs to. */
export function systemOf(code: CytologyCode): ResultSystem {
  if (code.startsWith('Thy')) return 'thy';
  return code.startsWith('TIR') ? 'tir' : 'bethesda';
}

/**
 * Meaning of each category in our words. Thy: omfshandbook.com and Eurocytology, Thy classification (Thy2c in part from
 * memory). Bethesda: names of the 2023 edition. TIR: Insights Imaging 2021, table 1.
 */
export const MEANINGS: { readonly [code in CytologyCode]: string } = {
  Thy1: 'non-diagnostic: too few cells or artefact',
  Thy1c: 'non-diagnostic, cyst fluid without enough lining cells',
  Thy2: 'non-neoplastic (for example nodular goitre or thyroiditis)',
  Thy2c: 'non-neoplastic, cyst with plenty of colloid',
  Thy3a: 'neoplasm possible: atypia that fits nowhere else',
  Thy3f: 'neoplasm possible: suggests a follicular neoplasm',
  Thy4: 'suspicious of malignancy, not certain',
  Thy5: 'malignant',
  'Bethesda I': 'non-diagnostic',
  'Bethesda II': 'benign',
  'Bethesda III': 'atypia of undetermined significance',
  'Bethesda IV': 'follicular neoplasm',
  'Bethesda V': 'suspicious of malignancy, not certain',
  'Bethesda VI': 'malignant',
  TIR1: 'non-diagnostic',
  TIR1C: 'non-diagnostic, cystic',
  TIR2: 'non-malignant',
  TIR3A: 'indeterminate, low risk',
  TIR3B: 'indeterminate, high risk',
  TIR4: 'suspicious of malignancy, not certain',
  TIR5: 'malignant',
};
