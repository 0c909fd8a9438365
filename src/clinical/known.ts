import type {
  BleedingItem,
  Capsule,
  Composition,
  DangerSign,
  Echogenicity,
  Findings,
  Focus,
  LumpSign,
  Margin,
  Nodule,
  Probe,
  Risk,
  Scan,
  Sex,
  Shape,
  Site,
  Tsh,
  Unknown,
  YesNo,
} from './findings.ts';

/** Several things that may be present together. `open`: whether others, not named, may be present too. */
export interface Listed<T> {
  readonly present: readonly T[];
  readonly open: boolean;
}

/** A nodule with every unknown as `null` (or an open list). Sizes in mm. */
export interface KnownNodule {
  readonly id: string;
  readonly site: Site | null;
  /** Whether this very lump is felt; goes before what is said of the neck. */
  readonly palpable: boolean | null;
  /** One to three diameters as told; empty = not measured. */
  readonly mm: readonly number[];
  /** Diameters of an earlier examination; empty = none is known, which is not the same as no growth. */
  readonly earlierMm: readonly number[];
  /** Least and greatest value that the largest diameter can have; equal when measured once. */
  readonly size: { readonly least: number; readonly most: number } | null;
  readonly composition: Composition | null;
  readonly spongiformWhole: boolean | null;
  readonly solidPartMm: number | null;
  readonly eccentric: boolean | null;
  readonly echogenicity: Echogenicity | null;
  readonly hypoechoicPart: boolean | null;
  readonly shape: Shape | null;
  readonly margin: Margin | null;
  readonly capsule: Capsule | null;
  readonly foci: Listed<Focus>;
}

/** Everything that is known of a nodule but its name, as one text: two nodules alike have the same. */
export function nodulesLook(nodule: KnownNodule): string {
  return JSON.stringify({ ...nodule, id: '' });
}

/** The findings with every unknown as `null`, so that no rule ever meets the word. */
export interface KnownFindings {
  readonly ageYears: number | null;
  readonly sex: Sex | null;
  readonly pregnant: YesNo | null;
  readonly pregnantWeeks: number | null;
  readonly dangerSigns: Listed<DangerSign>;
  readonly lump: Listed<LumpSign>;
  readonly risks: Listed<Risk>;
  readonly bleeding: Listed<BleedingItem>;
  readonly inr: number | null;
  /** Hours since the INR was measured. */
  readonly inrAgeHours: number | null;
  /** Whether a medicine, an antibiotic or an illness is new since then. */
  readonly changedSinceInr: boolean | null;
  /** 10^9 per litre */
  readonly platelets: number | null;
  /** Hours since a drip against platelets ended; 0 = still running. */
  readonly ivAntiplateletHours: number | null;
  readonly tsh: Tsh | null;
  readonly scan: Scan | null;
  readonly overactiveSigns: boolean | null;
  readonly examined: boolean | null;
  readonly palpable: boolean | null;
  readonly guidance: boolean | null;
  readonly ultrasoundDone: boolean | null;
  readonly mhz: number | null;
  readonly probe: Probe | null;
  readonly standoff: boolean | null;
  /** `null`: nobody has said whether there are any. */
  readonly nodules: readonly KnownNodule[] | null;
}

/** Turns "unknown" and absent into `null`, once, before any rule looks at the findings. */
export function knownFindings(findings: Findings): KnownFindings {
  const { patient, ultrasound } = findings;
  return {
    ageYears: known(patient?.ageYears),
    sex: known(patient?.sex),
    pregnant: known(patient?.pregnant),
    pregnantWeeks: known(patient?.pregnantWeeks),
    dangerSigns: listed(findings.dangerSigns),
    lump: listed(findings.lump),
    risks: listed(findings.risks),
    bleeding: listed(findings.bleeding),
    inr: known(findings.inr),
    inrAgeHours: known(findings.inrAgeHours),
    changedSinceInr: known(findings.changedSinceInr),
    platelets: known(findings.platelets),
    ivAntiplateletHours: known(findings.ivAntiplateletHours),
    tsh: known(findings.tsh),
    scan: known(findings.scan),
    overactiveSigns: known(findings.overactiveSigns),
    examined: known(findings.examined),
    palpable: known(findings.palpable),
    guidance: known(findings.guidance),
    ultrasoundDone: known(ultrasound?.done),
    mhz: known(ultrasound?.mhz),
    probe: known(ultrasound?.probe),
    standoff: known(ultrasound?.standoff),
    nodules: findings.nodules === undefined ? null : findings.nodules.map(knownNodule),
  };
}

/** One nodule with its unknowns as `null`; without an id it is named after its place (`n1` is the first). */
export function knownNodule(nodule: Nodule, index: number): KnownNodule {
  return {
    id: nodule.id ?? `n${index + 1}`,
    site: known(nodule.site),
    palpable: known(nodule.palpable),
    mm: nodule.mm ?? [],
    earlierMm: nodule.earlierMm ?? [],
    size: sizeOf(nodule),
    composition: known(nodule.composition),
    spongiformWhole: known(nodule.spongiformWhole),
    solidPartMm: known(nodule.solidPartMm),
    eccentric: known(nodule.eccentric),
    echogenicity: known(nodule.echogenicity),
    hypoechoicPart: known(nodule.hypoechoicPart),
    shape: known(nodule.shape),
    margin: known(nodule.margin),
    capsule: known(nodule.capsule),
    foci: listed(nodule.foci),
  };
}

function sizeOf(nodule: Nodule): KnownNodule['size'] {
  const sizes = [...(nodule.mm === undefined ? [] : [Math.max(...nodule.mm)]), ...(nodule.mmRange ?? [])];
  return sizes.length === 0 ? null : { least: Math.min(...sizes), most: Math.max(...sizes) };
}

function known<T>(value: T | Unknown | undefined): Exclude<T, Unknown> | null {
  return value === undefined || value === 'unknown' ? null : (value as Exclude<T, Unknown>);
}

function listed<T>(values: readonly (T | Unknown)[] | undefined): Listed<T> {
  if (values === undefined) return { present: [], open: true };
  const present = values.filter((value): value is Exclude<T, Unknown> => value !== 'unknown');
  return { present: [...new Set<T>(present)], open: present.length < values.length };
}
