/** Reads `flows/programme.yaml`. */
import { z } from 'zod';
import { inrHours } from '../clinical/clotting.ts';
import { systemNames } from '../clinical/cytology/categories.ts';
import { fluidWays } from '../clinical/fluid.ts';
import { policyIds } from '../clinical/policies/policy.ts';
import { laboratoryStains } from '../clinical/supplies.ts';
import { alcoholWays, assays, type Programme, pictureModes, privacyModes } from '../conversation/programme.ts';
import { type TimeUnit, unitMs } from '../text/time-units.ts';
import { durationForm, parseDuration } from './duration.ts';
import type { Problem } from './problem.ts';
import { schemaProblems } from './schema-problems.ts';
import { localeForm } from './texts.ts';
import { type Path, readYaml } from './yaml-source.ts';

const id = z.string().regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/u, 'small letters, digits and dashes');
const line = z.string().min(1, 'should not be empty');
const duration = z
  .string('a number and a unit, e.g. 10m')
  .regex(durationForm, 'a whole number and s, m, h or d, e.g. 10m')
  .transform((text) => parseDuration(text)!);
const policy = z.enum(policyIds);
const zone = z.string().refine(isZone, {
  message: 'is not a time zone',
  params: { todo: 'use a name of the IANA list, e.g. Africa/Nairobi' },
});
const languagesWords = 'all, or a list of languages, e.g. [en, fr]';
const hour = z.int().min(0).max(24);

const laboratory = z.strictObject({
  name: line,
  address: line,
  stain: z.enum(laboratoryStains),
  slides: z.int().min(1, 'from 1 to 9').max(9, 'from 1 to 9'),
  alcohol: z.enum(alcoholWays),
  fluid: z.enum(fluidWays).default('ask'),
  system: z.enum(systemNames).default('Thy'),
  assays: z.array(z.enum(assays)).default([]),
  open: z.array(z.int().min(1).max(7)).min(1),
  marking: line,
});

/** Places whose names stand in texts of one segment. */
const place = line.max(36, 'at most 36 letters');

const site = z.strictObject({
  name: line,
  lab: id,
  zone,
  guidance: z.boolean(),
  hospital: place.optional(),
  night: place.optional(),
  voiceNumber: line.optional(),
});

const day = z.iso.date('a day, e.g. 2030-03-04');

/**
 * For how many hours an INR counts. More than the published limit only as a choice of somebody named, on a day.
 */
const inr = z
  .strictObject({
    hours: z.int().min(1).max(inrHours.settled, `at most ${inrHours.settled}; longer only as a choice under "longer"`),
    longer: z.strictObject({ hours: z.int().min(inrHours.settled + 1), who: line, when: day }).optional(),
  })
  .default({ hours: inrHours.settled });

/** What a segment costs; from the contract with the network. */
const price = z.strictObject({
  currency: z.string().regex(/^[A-Z]{3}$/u, 'three capitals, e.g. EUR'),
  perSegmentOut: z.number().min(0),
  perSegmentIn: z.number().min(0),
});

const programmeSchema = z.strictObject({
  id,
  name: line,
  zone,
  languages: z
    .union([z.literal('all'), z.array(z.string().regex(localeForm, 'as its folder, e.g. fr')).min(1)], languagesWords)
    .default('all'),
  policy,
  shown: z.array(policy),
  privacy: z.enum(privacyModes),
  pictures: z.enum(pictureModes).default('refused'),
  asksPet: z.boolean().default(false),
  voiceNumber: line,
  hospital: place,
  night: place,
  inr,
  daytime: z.strictObject({ from: hour, to: hour }).refine((day) => day.from < day.to, {
    message: 'ends before it begins',
    params: { todo: 'give from and to as hours, from before to' },
  }),
  digest: hour.max(23),
  price: price.optional(),
  sites: z.record(id, site),
  laboratories: z.record(id, laboratory),
  urgencies: z.record(
    id,
    z.strictObject({ climb: z.array(duration).min(1), daytime: z.boolean(), quiet: z.boolean().default(false) }),
  ),
  durations: z.record(id, duration),
  limits: z.record(id, z.int().min(0)),
  withdrawn: z.array(z.string().regex(/^[0-9a-f]{16}$/u, '16 hexadecimal digits')).default([]),
});

/** Durations that people are told, by the unit in which they are: minutes of a clock, hours, days. */
const toldIn: Readonly<Record<string, TimeUnit>> = {
  'spray-dry': 'm',
  'alcohol-minimum': 'm',
  'watch-short': 'm',
  'watch-long': 'm',
  'join-number': 'h',
  'second-answer': 'h',
  'lost-look-back': 'h',
  'going-home-words': 'd',
  'report-look-back': 'd',
};
const unitWords: Readonly<Record<TimeUnit, string>> = { s: 'seconds', m: 'minutes', h: 'hours', d: 'days' };

/** Every key of a programme's file, by what it belongs to; what stands under `urgencies`, `durations` and `limits` has names. */
export const programmeFileKeys = {
  programme: Object.keys(programmeSchema.shape),
  site: Object.keys(site.shape),
  laboratory: Object.keys(laboratory.shape),
} as const;

const programmeKeys = Object.values(programmeFileKeys).flat();

/** Names that flows and code read; null where the file has no such list at all. */
export type ProgrammeNames = Readonly<Record<'urgencies' | 'durations' | 'limits', readonly string[] | null>>;

/** The programme, or null with the problems that stand in its way. */
export interface ReadProgramme {
  readonly programme: Programme | null;
  /** Also of a programme with other faults; null where nothing can be read. */
  readonly names: ProgrammeNames | null;
  /** Hashes of older flow structures that nobody may walk on: whoever does is moved to the newest and asked anew. */
  readonly withdrawn: readonly string[];
  readonly problems: readonly Problem[];
  /** Line of a path in the file. */
  readonly lineOf: (path: Path) => number;
}

/** Reads and checks a programme; durations become ms. All problems at once, as far as it can be read. Never throws. */
export function readProgramme(file: string, text: string): ReadProgramme {
  const source = readYaml(file, text);
  const { lineOf } = source;
  if (source.problems.length > 0)
    return { programme: null, names: null, withdrawn: [], problems: source.problems, lineOf };
  const parsed = programmeSchema.safeParse(source.data, { reportInput: true });
  const names = namesOf(source.data);
  const joined = joinProblems(file, source.data, lineOf);
  if (!parsed.success) {
    const problems = [...schemaProblems(source, parsed.error, programmeKeys), ...joined];
    return { programme: null, names, withdrawn: [], problems, lineOf };
  }
  const { sites, laboratories, urgencies, withdrawn, inr: chosen, ...plain } = parsed.data;
  const { hospital, night, voiceNumber } = plain;
  const programme: Programme = {
    ...plain,
    inrHours: chosen.longer?.hours ?? chosen.hours,
    sites: Object.entries(sites).map(([siteId, { lab, ...rest }]) => ({
      id: siteId,
      labId: lab,
      ...rest,
      hospital: rest.hospital ?? hospital,
      night: rest.night ?? night,
      voiceNumber: rest.voiceNumber ?? voiceNumber,
    })),
    laboratories: Object.entries(laboratories).map(([labId, rest]) => ({ id: labId, ...rest })),
    urgencies: Object.fromEntries(
      Object.entries(urgencies).map(([name, { climb, ...rest }]) => [name, { climbMs: climb, ...rest }]),
    ),
  };
  return { programme, names, withdrawn, problems: joined, lineOf };
}

type Loose = Readonly<Record<string, unknown>>;

const isMap = (value: unknown): value is Loose => typeof value === 'object' && value !== null && !Array.isArray(value);

/** A part of the file by name; null where there is none of that shape, which the schema says. */
function part(of: unknown, name: string): Loose | null {
  const value = isMap(of) ? of[name] : null;
  return isMap(value) ? value : null;
}

function namesOf(data: unknown): ProgrammeNames {
  const keys = (name: string): readonly string[] | null => {
    const found = part(data, name);
    return found && Object.keys(found);
  };
  return { urgencies: keys('urgencies'), durations: keys('durations'), limits: keys('limits') };
}

/** What is wrong between the parts of a file, each of which may be as it should. */
function joinProblems(file: string, data: unknown, lineOf: (path: Path) => number): readonly Problem[] {
  const problems: Problem[] = [];
  const fault = (path: readonly string[], what: string, todo: string) =>
    problems.push({ file, line: lineOf(path), path: path.join('.'), what, todo });
  const [sites, laboratories] = [part(data, 'sites'), part(data, 'laboratories')];
  const [siteIds, labIds] = [Object.keys(sites ?? {}), Object.keys(laboratories ?? {})];
  if (sites && siteIds.length === 0) fault(['sites'], 'there is no site', 'name at least one');
  if (laboratories && labIds.length === 0) fault(['laboratories'], 'there is no laboratory', 'name at least one');
  for (const siteId of siteIds) {
    const site = part(sites, siteId);
    if (laboratories && typeof site?.lab === 'string' && !labIds.includes(site.lab)) {
      const todo = `use one of: ${labIds.join(', ')}`;
      fault(['sites', siteId, 'lab'], `there is no laboratory ${site.lab}`, todo);
    }
  }
  const { policy: governing, shown } = isMap(data) ? data : {};
  if (typeof governing === 'string' && Array.isArray(shown) && shown.includes(governing)) {
    fault(['shown'], `${governing} governs already`, 'name only the other policies here');
  }
  const durations = part(data, 'durations') ?? {};
  for (const [name, unit] of Object.entries(toldIn)) {
    // A part of one would be told as `0.07 min`, or as the time that it is already.
    const ms = parseDuration(String(durations[name] ?? ''));
    if (ms === null || ms % unitMs[unit] === 0) continue;
    const words = unitWords[unit];
    fault(['durations', name], `is told in whole ${words}`, `give whole ${words}, e.g. 1${unit}`);
  }
  return problems;
}

/** Whether this is the name of a time zone as the IANA list writes it. */
export function isZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return /^[A-Z]/u.test(name);
  } catch {
    return false;
  }
}
