import type { PatientWords } from './patient.ts';
import type { NoduleSide, SizeUnit } from './size-tokens.ts';

/** What a word says: a field of the findings and its value. Values of list fields are single items. */
export interface QuickMeaning {
  readonly field: string;
  readonly value: string | boolean;
}

/** Trade words of one language, all keys folded; `locales/<tag>/quick.json`. */
export interface QuickVocabulary {
  /** Skipped as first word. */
  readonly start: readonly string[];
  /** Say nothing, part nothing. */
  readonly fillers: readonly string[];
  /** The phrase behind one of these is not taken (`no nodes`, `maybe solid`), unless both together are a phrase. */
  readonly doubts: readonly string[];
  /** Behind a phrase these void it (`nodes ok`, `solid or mixed`), unless they begin a phrase. */
  readonly denials: readonly string[];
  /** Beside a list's name: none of it. Behind any other phrase they void it. */
  readonly none: readonly string[];
  readonly sides: Readonly<Record<string, NoduleSide>>;
  readonly units: Readonly<Record<string, SizeUnit>>;
  readonly patient: PatientWords;
  /** Names of lists: what follows is all that there is. */
  readonly lists: Readonly<Record<string, string>>;
  /** Words with a number behind or before them. */
  readonly numbersBehind: Readonly<Record<string, string>>;
  readonly numbersBefore: Readonly<Record<string, string>>;
  readonly words: Readonly<Record<string, readonly QuickMeaning[]>>;
}

/** Fields of one nodule (findings contract). */
export const noduleFields: ReadonlySet<string> = new Set([
  'composition',
  'spongiformWhole',
  'solidPartMm',
  'eccentric',
  'echogenicity',
  'hypoechoicPart',
  'shape',
  'margin',
  'capsule',
  'foci',
]);
