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
const hour = z.int().min(0).max(24);

const laboratory = z.strictObject({
  name: line,
  address: line,
  stain: z.enum(laboratoryStains),
  slides: z.int().min(1).max(9),
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
  agreed: z.array(id),
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

const programmeKeys = [programmeSchema, laboratory, site].flatMap((one) => Object.keys(one.shape));

/** The programme, or null with the problems that stand in its way. */
export interface ReadProgramme {
  readonly programme: Programme | null;
  /** Hashes of older flow structures that nobody may walk on: whoever does is moved to the newest and asked anew. */
  readonly withdrawn: readonly string[];
  readonly problems: readonly Problem[];
  /** Line of a path in the file. */
  readonly lineOf: (path: Path) => number;
}

/** Reads and checks a programme; durations become ms. Never throws. */
export function readProgramme(file: string, text: string): ReadProgramme {
  const source = readYaml(file, text);
  if (source.problems.length > 0)
    return { programme: null, withdrawn: [], problems: source.problems, lineOf: source.lineOf };
  const parsed = programmeSchema.safeParse(source.data, { reportInput: true });
  if (!parsed.success) {
    const problems = schemaProblems(source, parsed.error, programmeKeys);
    return { programme: null, withdrawn: [], problems, lineOf: source.lineOf };
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
  const problems: Problem[] = [];
  const fault = (path: readonly string[], what: string, todo: string) =>
    problems.push({ file, line: source.lineOf(path), path: path.join('.'), what, todo });
  if (programme.sites.length === 0) fault(['sites'], 'there is no site', 'name at least one');
  if (programme.laboratories.length === 0) fault(['laboratories'], 'there is no laboratory', 'name at least one');
  for (const one of programme.sites) {
    if (!(one.labId in laboratories)) {
      const todo = `use one of: ${Object.keys(laboratories).join(', ')}`;
      fault(['sites', one.id, 'lab'], `there is no laboratory ${one.labId}`, todo);
    }
  }
  if (programme.shown.includes(programme.policy)) {
    fault(['shown'], `${programme.policy} governs already`, 'name only the other policies here');
  }
  for (const [name, unit] of Object.entries(toldIn)) {
    // A part of one would be told as `0.07 min`, or as the time that it is already.
    if ((programme.durations[name] ?? 0) % unitMs[unit] === 0) continue;
    const words = unitWords[unit];
    fault(['durations', name], `is told in whole ${words}`, `give whole ${words}, e.g. 1${unit}`);
  }
  return { programme, withdrawn, problems, lineOf: source.lineOf };
}

function isZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return /^[A-Z]/u.test(name);
  } catch {
    return false;
  }
}
