import { z } from 'zod';

/*
 * The findings of one examination as they come in from outside, and the door through which they pass.
 * Absent, not asked and "unknown" mean the same; an empty list means that none is present.
 * Plausible ranges are our convention: they catch slips of the finger, they are no clinical limits.
 */

const UNKNOWN = 'unknown';
const sexes = ['female', 'male'] as const;
const yesNo = ['yes', 'no'] as const;
/** `hard` and `fixed` each say half of `hard-or-fixed`, which is still read. `breathless`: walking or lying flat. */
const dangerSigns = [
  'stridor',
  'breathless',
  'rapid-growth',
  'hard-or-fixed',
  'hard',
  'fixed',
  'voice-change',
  'neck-nodes',
  'swallowing',
] as const;
const lumpSigns = ['pulsates', 'moves-with-tongue'] as const;
const risks = ['family-medullary', 'family-thyroid-cancer', 'neck-irradiation', 'pet-focus'] as const;
const bleedingItems = [
  'warfarin',
  'oral-anticoagulant',
  'heparin',
  'antiplatelet',
  'iv-antiplatelet',
  'bleeding-disorder',
] as const;
const tshLevels = ['low', 'normal', 'high'] as const;
const scans = ['hot', 'not-hot'] as const;
const probes = ['linear', 'other'] as const;
const sites = ['right', 'left', 'isthmus'] as const;
const compositions = ['cystic', 'spongiform', 'mixed', 'solid', 'obscured'] as const;
const echogenicities = ['anechoic', 'hyperechoic', 'isoechoic', 'hypoechoic', 'very-hypoechoic'] as const;
const shapes = ['wider-than-tall', 'taller-than-wide'] as const;
const margins = ['smooth', 'ill-defined', 'lobulated', 'irregular', 'spiculated'] as const;
const capsules = ['intact', 'invaded'] as const;
export const focusKinds = [
  'comet-tail',
  'macrocalcification',
  'rim-calcification',
  'rim-extrusion',
  'punctate',
] as const;

/** The closed list of values of each finding that is answered by choosing, in the order of the contract. */
export const findingsChoices = {
  sex: sexes,
  pregnant: yesNo,
  dangerSigns,
  lump: lumpSigns,
  risks,
  bleeding: bleedingItems,
  tsh: tshLevels,
  scan: scans,
  probe: probes,
  site: sites,
  composition: compositions,
  echogenicity: echogenicities,
  shape: shapes,
  margin: margins,
  capsule: capsules,
  foci: focusKinds,
} as const;

/** Least and greatest plausible value of each number, both allowed. Our convention. */
export const plausible = {
  ageYears: [0, 120],
  pregnantWeeks: [0, 45],
  inr: [0.5, 20],
  /** hours since the INR was measured: up to a year */
  inrAgeHours: [0, 8760],
  /** 10^9 per litre */
  platelets: [0, 2000],
  /** hours since a drip against platelets ended; 0 = still running */
  ivAntiplateletHours: [0, 720],
  /** megahertz */
  mhz: [1, 30],
  /** millimetres */
  mm: [0.1, 200],
} as const satisfies Record<string, readonly [number, number]>;

export type Unknown = typeof UNKNOWN;
export type Sex = (typeof sexes)[number];
export type YesNo = (typeof yesNo)[number];
export type DangerSign = (typeof dangerSigns)[number];
export type LumpSign = (typeof lumpSigns)[number];
export type Risk = (typeof risks)[number];
export type BleedingItem = (typeof bleedingItems)[number];
export type Tsh = (typeof tshLevels)[number];
export type Scan = (typeof scans)[number];
export type Probe = (typeof probes)[number];
export type Site = (typeof sites)[number];
export type Composition = (typeof compositions)[number];
export type Echogenicity = (typeof echogenicities)[number];
export type Shape = (typeof shapes)[number];
export type Margin = (typeof margins)[number];
export type Capsule = (typeof capsules)[number];
export type Focus = (typeof focusKinds)[number];

/** A dotted path into the findings, without `nodules`: the name of one question. */
export type FindingsField =
  | 'patient.ageYears'
  | 'patient.sex'
  | 'patient.pregnant'
  | 'patient.pregnantWeeks'
  | 'dangerSigns'
  | 'lump'
  | 'risks'
  | 'bleeding'
  | 'inr'
  | 'inrAgeHours'
  | 'changedSinceInr'
  | 'platelets'
  | 'ivAntiplateletHours'
  | 'tsh'
  | 'scan'
  | 'overactiveSigns'
  | 'examined'
  | 'palpable'
  | 'guidance'
  | 'ultrasound.done'
  | 'ultrasound.mhz'
  | 'ultrasound.probe'
  | 'ultrasound.standoff'
  | 'nodules'
  | NoduleField;

/** The questions that are asked of each nodule. */
export type NoduleField =
  | 'mm'
  | 'composition'
  | 'spongiformWhole'
  | 'solidPartMm'
  | 'eccentric'
  | 'echogenicity'
  | 'hypoechoicPart'
  | 'shape'
  | 'margin'
  | 'capsule'
  | 'foci';

const choice = <const T extends readonly string[]>(values: T) =>
  z.enum([...values, UNKNOWN] as [...T, Unknown], { error: `one of ${[...values, UNKNOWN].join(', ')}` }).optional();

const list = <const T extends readonly string[]>(values: T) => {
  const expected = `a list of ${[...values, UNKNOWN].join(', ')}`;
  const item = z.enum([...values, UNKNOWN] as [...T, Unknown], { error: `one of ${[...values, UNKNOWN].join(', ')}` });
  return z.array(item, { error: expected }).max(20, { error: expected }).optional();
};

const figure = ([least, most]: readonly [number, number]) => {
  const error = `a number from ${least} to ${most}, or unknown`;
  return z.union([z.number().min(least, { error }).max(most, { error }), z.literal(UNKNOWN)], { error }).optional();
};

const truth = () => z.union([z.boolean(), z.literal(UNKNOWN)], { error: 'true, false or unknown' }).optional();

const millimetres = z
  .number({ error: 'a number of millimetres' })
  .min(plausible.mm[0], { error: `millimetres from ${plausible.mm[0]} to ${plausible.mm[1]}` })
  .max(plausible.mm[1], { error: `millimetres from ${plausible.mm[0]} to ${plausible.mm[1]}` });
const name = z
  .string({ error: 'a text' })
  .min(1, { error: 'a text that is not empty' })
  .max(200, { error: 'a text of at most 200 characters' });
const expectedObject = { error: 'an object' };

const noduleSchema = z.strictObject(
  {
    id: name.optional(),
    site: choice(sites),
    palpable: truth(),
    mm: z
      .array(millimetres, { error: 'a list of one to three diameters in millimetres' })
      .min(1, { error: 'one to three diameters in millimetres' })
      .max(3, { error: 'one to three diameters in millimetres' })
      .optional(),
    mmRange: z
      .array(millimetres, { error: 'the least and the greatest size in millimetres' })
      .length(2, { error: 'the least and the greatest size in millimetres' })
      .refine(([least, most]) => (least ?? 0) <= (most ?? 0), { error: 'the least size first' })
      .optional(),
    earlierMm: z
      .array(millimetres, { error: 'the diameters of an earlier examination in millimetres' })
      .min(1, { error: 'one to three diameters in millimetres' })
      .max(3, { error: 'one to three diameters in millimetres' })
      .optional(),
    composition: choice(compositions),
    spongiformWhole: truth(),
    solidPartMm: figure(plausible.mm),
    eccentric: truth(),
    echogenicity: choice(echogenicities),
    hypoechoicPart: truth(),
    shape: choice(shapes),
    margin: choice(margins),
    capsule: choice(capsules),
    foci: list(focusKinds),
  },
  expectedObject,
);

const findingsSchema = z.strictObject(
  {
    id: name.optional(),
    patient: z
      .strictObject(
        {
          ageYears: figure(plausible.ageYears),
          sex: choice(sexes),
          pregnant: choice(yesNo),
          pregnantWeeks: figure(plausible.pregnantWeeks),
        },
        expectedObject,
      )
      .optional(),
    dangerSigns: list(dangerSigns),
    lump: list(lumpSigns),
    risks: list(risks),
    bleeding: list(bleedingItems),
    inr: figure(plausible.inr),
    inrAgeHours: figure(plausible.inrAgeHours),
    changedSinceInr: truth(),
    platelets: figure(plausible.platelets),
    ivAntiplateletHours: figure(plausible.ivAntiplateletHours),
    tsh: choice(tshLevels),
    scan: choice(scans),
    overactiveSigns: truth(),
    examined: truth(),
    palpable: truth(),
    guidance: truth(),
    ultrasound: z
      .strictObject(
        { done: truth(), mhz: figure(plausible.mhz), probe: choice(probes), standoff: truth() },
        expectedObject,
      )
      .optional(),
    nodules: z
      .array(noduleSchema, { error: 'a list of nodules' })
      .max(50, { error: 'at most 50 nodules' })
      .refine((all) => new Set(all.map((nodule) => nodule.id ?? {})).size === all.length, {
        error: 'a different id for each nodule',
      })
      .optional(),
  },
  { error: 'one JSON object' },
);

/** One nodule as told: largest diameters in mm, features as seen, each of them possibly "unknown". */
export type Nodule = z.infer<typeof noduleSchema>;

/** The findings as told. Sizes in mm, age in years, platelets in 10^9 per litre, probe frequency in MHz. */
export type Findings = z.infer<typeof findingsSchema>;

/** Why findings were refused: the dotted path of the first fault and what was expected there. */
export interface Refusal {
  readonly path: string;
  readonly expected: string;
}

export type ParsedFindings =
  | { readonly ok: true; readonly findings: Findings }
  | { readonly ok: false; readonly refusal: Refusal };

/**
 * Reads untrusted findings. Unknown keys, values outside the closed lists and implausible numbers are refused with
 * their path; "unknown" in the place of a whole list, object or size is read as absent. Never throws.
 */
export function parseFindings(input: unknown): ParsedFindings {
  const parsed = findingsSchema.safeParse(withoutUnknownGroups(input));
  if (parsed.success) return { ok: true, findings: parsed.data };
  const issue = parsed.error.issues[0];
  if (issue === undefined) return { ok: false, refusal: { path: '', expected: 'findings' } };
  const path = issue.path.map(String);
  if (issue.code === 'unrecognized_keys') {
    return { ok: false, refusal: { path: [...path, issue.keys[0] ?? ''].join('.'), expected: 'no such field' } };
  }
  return { ok: false, refusal: { path: path.join('.'), expected: issue.message } };
}

const objectsAndNodules = ['patient', 'ultrasound', 'nodules'];
const lists = ['dangerSigns', 'lump', 'risks', 'bleeding'];
const sizes = ['mm', 'mmRange', 'earlierMm'];

function withoutUnknownGroups(input: unknown): unknown {
  if (!isRecord(input)) return input;
  const { nodules, ...rest } = spelledOut(input, objectsAndNodules, lists);
  if (!Array.isArray(nodules)) return nodules === undefined ? rest : { ...rest, nodules };
  return { ...rest, nodules: nodules.map((one: unknown) => (isRecord(one) ? spelledOut(one, sizes, ['foci']) : one)) };
}

/** Leaves out what is wholly unknown; a list said to be "unknown" becomes a list that holds the word. */
function spelledOut(
  record: Record<string, unknown>,
  left: readonly string[],
  listed: readonly string[],
): Record<string, unknown> {
  const entries = Object.entries(record);
  if (!entries.some(([key, value]) => isUnknown(value) && (left.includes(key) || listed.includes(key)))) return record;
  return Object.fromEntries(
    entries
      .filter(([key, value]) => !(left.includes(key) && isUnknown(value)))
      .map(([key, value]) => [key, listed.includes(key) && isUnknown(value) ? [UNKNOWN] : value]),
  );
}

function isUnknown(value: unknown): boolean {
  return value === UNKNOWN || (Array.isArray(value) && value.length === 1 && value[0] === UNKNOWN);
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
