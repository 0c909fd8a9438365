import type { Composition, Echogenicity, Focus } from './findings.ts';
import { plausible } from './findings.ts';
import type { KnownNodule } from './known.ts';
import { acr2017 } from './policies/acr-2017.ts';
import { ata2015 } from './policies/ata-2015.ts';
import { commonPractice } from './policies/common-practice.ts';
import { eu2017 } from './policies/eu-2017.ts';
import {
  anyGrade,
  isIrregular,
  type Outcome,
  outcomes,
  type Policy,
  type PolicyId,
  type SeenNodule,
} from './policies/policy.ts';

/*
 * A policy over every value that an unknown finding could still take. Our convention throughout: no published table
 * says what to do with a feature that could not be seen, and an unknown must never make an answer surer.
 *
 * Looks that no table tells apart are tried once: hyper- as isoechoic, an ill-defined edge as smooth, the three
 * irregular edges as one. Every look is graded once per policy and kept, so that a reading is a walk over small tables.
 */

/** What one policy can still say of one nodule. */
export interface PolicyReading {
  /** The one outcome; `follow-up` for {no-sampling, follow-up}, `optional` for {optional, sample}. */
  readonly decision: Outcome;
  /** Every outcome that the unknowns leave open, least first. */
  readonly decisions: readonly Outcome[];
  /** Every level that they leave open, least first; absent for a policy that prints none. */
  readonly levels?: readonly string[];
  /** Least and most points; ACR only. */
  readonly points?: readonly [number, number];
}

const interiors = [
  { composition: 'cystic', spongiformWhole: false, eccentric: false },
  { composition: 'spongiform', spongiformWhole: true, eccentric: false },
  { composition: 'spongiform', spongiformWhole: false, eccentric: false },
  { composition: 'mixed', spongiformWhole: false, eccentric: false },
  { composition: 'mixed', spongiformWhole: false, eccentric: true },
  { composition: 'solid', spongiformWhole: false, eccentric: false },
  { composition: 'obscured', spongiformWhole: false, eccentric: false },
] as const satisfies readonly { composition: Composition; spongiformWhole: boolean; eccentric: boolean }[];

const echoes = [
  { echogenicity: 'anechoic', hypoechoicPart: false },
  { echogenicity: 'anechoic', hypoechoicPart: true },
  { echogenicity: 'isoechoic', hypoechoicPart: false },
  { echogenicity: 'isoechoic', hypoechoicPart: true },
  { echogenicity: 'hypoechoic', hypoechoicPart: false },
  { echogenicity: 'very-hypoechoic', hypoechoicPart: false },
] as const satisfies readonly { echogenicity: Echogenicity; hypoechoicPart: boolean }[];

const shapes = ['wider-than-tall', 'taller-than-wide'] as const;
const edges = ['smooth', 'irregular', 'extension'] as const;
const rims = [[], ['rim-calcification'], ['rim-calcification', 'rim-extrusion']] as const;
const focusSets: readonly (readonly Focus[])[] = rims.flatMap((rim) =>
  [[], ['macrocalcification' as const]].flatMap((coarse) =>
    [[], ['punctate' as const]].map((tiny) => [...rim, ...coarse, ...tiny]),
  ),
);

/** The axes along which a nodule can look different to a table, with the number of looks on each. */
export const axes = { interior: interiors, echo: echoes, shape: shapes, edge: edges, foci: focusSets } as const;
export type Axis = keyof typeof axes;

/** The looks still possible, by axis, as places in the lists of `axes`. */
export type Completions = { readonly [A in Axis]: readonly number[] };

const policies: { readonly [P in PolicyId]: Policy } = {
  'common-practice': anyGrade(commonPractice),
  'acr-2017': anyGrade(acr2017),
  'eu-2017': anyGrade(eu2017),
  'ata-2015': anyGrade(ata2015),
};

/** The policy of this name. */
export const policyOf = (id: PolicyId): Policy => policies[id];

/** Every look that the nodule can still have. */
export function completionsOf(nodule: KnownNodule): Completions {
  return {
    interior: places(interiors, (look) => interiorFits(look, nodule)),
    echo: places(echoes, (look) => echoFits(look, nodule)),
    shape: places(shapes, (look) => nodule.shape === null || nodule.shape === look),
    edge: places(edges, (look) => edgeFits(look, nodule)),
    foci: places(focusSets, (look) => fociFit(look, nodule)),
  };
}

function interiorFits(look: (typeof interiors)[number], nodule: KnownNodule): boolean {
  const { composition } = look;
  if (nodule.composition === null) {
    if (composition === 'obscured') return false;
    if ((composition === 'cystic' || composition === 'spongiform') && hasKnownSuspiciousFeature(nodule)) return false;
  } else if (nodule.composition !== composition) return false;
  if (composition === 'spongiform') return (nodule.spongiformWhole ?? look.spongiformWhole) === look.spongiformWhole;
  if (composition === 'mixed') return (nodule.eccentric ?? look.eccentric) === look.eccentric;
  return true;
}

function echoFits(look: (typeof echoes)[number], nodule: KnownNodule): boolean {
  const echogenicity = nodule.echogenicity === 'hyperechoic' ? 'isoechoic' : nodule.echogenicity;
  if (echogenicity === null ? look.echogenicity === 'anechoic' : look.echogenicity !== echogenicity) return false;
  const mostlyDark = look.echogenicity === 'hypoechoic' || look.echogenicity === 'very-hypoechoic';
  return mostlyDark || (nodule.hypoechoicPart ?? look.hypoechoicPart) === look.hypoechoicPart;
}

function edgeFits(look: (typeof edges)[number], nodule: KnownNodule): boolean {
  if (nodule.capsule === 'invaded') return look === 'extension';
  if (nodule.margin !== null) return look === (isIrregular(nodule.margin) ? 'irregular' : 'smooth');
  return look !== 'extension' || nodule.capsule === null;
}

function fociFit(look: readonly Focus[], { foci }: KnownNodule): boolean {
  const seen = foci.present.includes('rim-extrusion') ? [...foci.present, 'rim-calcification' as const] : foci.present;
  const named: readonly Focus[] = seen.filter((focus) => focus !== 'comet-tail');
  return named.every((focus) => look.includes(focus)) && (foci.open || look.every((focus) => named.includes(focus)));
}

/** A feature that a cyst or a spongiform nodule does not have: seen, not merely possible. */
export function hasKnownSuspiciousFeature(nodule: KnownNodule): boolean {
  return (
    nodule.shape === 'taller-than-wide' ||
    nodule.capsule === 'invaded' ||
    (nodule.margin !== null && isIrregular(nodule.margin)) ||
    nodule.foci.present.includes('punctate') ||
    nodule.foci.present.includes('rim-extrusion')
  );
}

function places<T>(looks: readonly T[], fits: (look: T) => boolean): number[] {
  const found: number[] = [];
  for (let place = 0; place < looks.length; place += 1) if (fits(looks[place] as T)) found.push(place);
  return found;
}

const gradeTables = new Map<PolicyId, Uint8Array>();

/** The grade of every look under a policy, as its place in the policy's list of grades; filled once. */
export function gradeTable(id: PolicyId): Uint8Array {
  const made = gradeTables.get(id);
  if (made !== undefined) return made;
  const { grades, grade } = policyOf(id);
  const table = new Uint8Array(interiors.length * echoes.length * shapes.length * edges.length * focusSets.length);
  let place = 0;
  for (const interior of interiors)
    for (const echo of echoes)
      for (const shape of shapes)
        for (const edge of edges)
          for (const foci of focusSets) {
            const seen: SeenNodule = { ...interior, ...echo, shape, edge, foci };
            table[place] = grades.indexOf(grade(seen));
            place += 1;
          }
  gradeTables.set(id, table);
  return table;
}

/** The place of a look in a grade table. */
export function lookPlace(interior: number, echo: number, shape: number, edge: number, foci: number): number {
  return (((interior * echoes.length + echo) * shapes.length + shape) * edges.length + edge) * focusSets.length + foci;
}

const anyFociTables = new Map<PolicyId, Uint32Array>();

/** The grades of every look but for the foci, which may be any: bits as in `possibleGrades`; filled once. */
function anyFociTable(id: PolicyId): Uint32Array {
  const made = anyFociTables.get(id);
  if (made !== undefined) return made;
  const grades = gradeTable(id);
  const table = new Uint32Array(grades.length / focusSets.length);
  grades.forEach((grade, place) => {
    const look = Math.floor(place / focusSets.length);
    table[look] = (table[look] as number) | (1 << grade);
  });
  anyFociTables.set(id, table);
  return table;
}

/** The grades still possible, as a set of bits: bit n = place n in the policy's list of grades. */
export function possibleGrades(id: PolicyId, looks: Completions): number {
  const table = gradeTable(id);
  const anyFoci = looks.foci.length === focusSets.length ? anyFociTable(id) : null;
  let bits = 0;
  for (const interior of looks.interior)
    for (const echo of looks.echo)
      for (const shape of looks.shape)
        for (const edge of looks.edge) {
          const start = lookPlace(interior, echo, shape, edge, 0);
          if (anyFoci !== null) bits |= anyFoci[start / focusSets.length] as number;
          else for (const foci of looks.foci) bits |= 1 << (table[start + foci] as number);
        }
  return bits;
}

/**
 * The sizes in mm to try: both ends of what the size can be, every threshold of the policy between them, and one size
 * between each two of these. A size that was never measured can be anything plausible.
 */
export function sizesToTry(id: PolicyId, size: KnownNodule['size']): readonly number[] {
  const least = size?.least ?? plausible.mm[0];
  const most = size?.most ?? plausible.mm[1];
  if (least === most) return [least];
  const inside = policyOf(id).thresholdsMm.filter((threshold) => threshold > least && threshold < most);
  return [least, ...inside, most].flatMap((mm, place, all) => {
    const next = all[place + 1];
    return next === undefined ? [mm] : [mm, (mm + next) / 2];
  });
}

/** The outcomes that these grades can have at these sizes, least first. */
export function possibleOutcomes(
  id: PolicyId,
  gradeBits: number,
  sizes: readonly number[],
  solidPartMm: number | null,
): readonly Outcome[] {
  const { grades, outcome } = policyOf(id);
  const found = new Set<Outcome>();
  for (let place = 0; place < grades.length; place += 1) {
    if ((gradeBits & (1 << place)) === 0) continue;
    for (const mm of sizes) found.add(outcome(grades[place] as string | number, { mm, solidPartMm }));
  }
  return outcomes.filter((one) => found.has(one));
}

/** One word for a set of outcomes: see `PolicyReading.decision`. */
export function oneOutcome(open: readonly Outcome[]): Outcome {
  const [first, second, third] = open;
  if (first !== undefined && second === undefined) return first;
  if (third !== undefined) return 'undetermined';
  if (first === 'no-sampling' && second === 'follow-up') return 'follow-up';
  return first === 'optional' && second === 'sample' ? 'optional' : 'undetermined';
}

/** What the policy can still say of the nodule, over every completion of what is unknown. */
export function readPolicy(id: PolicyId, nodule: KnownNodule, looks = completionsOf(nodule)): PolicyReading {
  const { grades, level } = policyOf(id);
  const bits = possibleGrades(id, looks);
  const decisions = possibleOutcomes(id, bits, sizesToTry(id, nodule.size), nodule.solidPartMm);
  const reading = { decision: oneOutcome(decisions), decisions };
  if (id === 'common-practice') return reading;
  const open = grades.filter((_, place) => (bits & (1 << place)) !== 0);
  const levels = [...new Set(open.map(level).filter((one) => one !== null))];
  return id === 'acr-2017'
    ? { ...reading, levels, points: [open[0], open.at(-1)] as [number, number] }
    : { ...reading, levels };
}
