/** What a coordinator says of a new programme: the file that `neckline setup --from` reads, in one schema. */
import { z } from 'zod';
import { roles } from '../case/roles.ts';
import { systemNames } from '../clinical/cytology/categories.ts';
import { fluidWays } from '../clinical/fluid.ts';
import { policyIds } from '../clinical/policies/policy.ts';
import { laboratoryStains } from '../clinical/supplies.ts';
import type { Problem } from '../content/problem.ts';
import { schemaProblems } from '../content/schema-problems.ts';
import { type Path, readYaml } from '../content/yaml-source.ts';
import { alcoholWays, assays } from '../conversation/programme.ts';
import { addressForm, addressWords } from './address.ts';
import { withStandIns } from './stand-ins.ts';

const words = z.string().trim().min(1, 'should not be empty');
const id = z.string().regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/u, 'small letters, digits and dashes, e.g. oruma');
/** Outside the line: somebody picks up. */
const voiceNumber = z
  .string()
  .regex(/^\+?[\d ]{3,20}$/, 'a number that can be dialled, in quotes, e.g. "+000555010000"');
const web = z.url({ protocol: /^https?$/, error: 'an address that begins with http:// or https://' });
const absolute = z.string().startsWith('/', 'a whole path, from / on, e.g. /etc/neckline/telegram-token');

/** Where patients of everybody, or of one clinic, are sent. */
const places = { hospital: words, night: words, voiceNumber };

const programme = z.strictObject({
  id,
  name: words,
  zone: words,
  policy: z.enum(policyIds).default('common-practice'),
  languages: z.array(words).min(1, 'name at least one').default(['en']),
  ...places,
});

const clinic = z.strictObject({
  id,
  name: words,
  laboratory: id,
  guidance: z.boolean(),
  zone: words.optional(),
  hospital: words.optional(),
  night: words.optional(),
  voiceNumber: voiceNumber.optional(),
});

const laboratory = z.strictObject({
  id,
  name: words,
  address: words,
  stain: z.enum(laboratoryStains),
  slides: z.int('a whole number'),
  alcohol: z.enum(alcoholWays),
  fluid: z.enum(fluidWays).default('ask'),
  system: z.enum(Object.values(systemNames)).default('Thy'),
  assays: z.array(z.enum(assays)).default([]),
  open: z.array(z.int().min(1).max(7)).min(1, 'name at least one day, 1 = Monday'),
  marking: words,
});

const person = z.strictObject({
  name: words,
  roles: z.array(z.enum(roles)).min(1, 'name at least one'),
  addresses: z.array(z.string().regex(addressForm, addressWords)).min(1, 'name at least one'),
  clinic: id.optional(),
  laboratory: id.optional(),
  language: words.optional(),
  shared: z.boolean().default(false),
});

const sms = z.strictObject({
  gateway: z.enum(['kannel', 'generic']),
  sendUrl: web,
  user: words.default('neckline'),
  passwordFile: absolute.optional(),
  number: words,
  prefixes: z.array(words).min(1, 'name at least one'),
  country: words.optional(),
  mapping: absolute.optional(),
});

const telegram = z.strictObject({ tokenFile: absolute.optional(), webhookUrl: web.optional() });

const money = z.strictObject({
  currency: words,
  perSegmentOut: z.number().min(0),
  perSegmentIn: z.number().min(0),
});

const answersSchema = z.strictObject({
  programme,
  clinics: z.array(clinic).min(1, 'name at least one'),
  laboratories: z.array(laboratory).min(1, 'name at least one'),
  people: z.array(person).min(1, 'name at least one'),
  sms: sms.optional(),
  telegram: telegram.optional(),
  price: money.optional(),
  casesAMonth: z.int('a whole number').min(0, 'a whole number').optional(),
  data: absolute.default('/var/lib/neckline'),
  keyFile: absolute.default('/var/lib/neckline-key/line.key'),
  backupKey: absolute.optional(),
});

export type Answers = z.output<typeof answersSchema>;
export type ClinicAnswers = z.output<typeof clinic>;
export type LaboratoryAnswers = z.output<typeof laboratory>;
export type PersonAnswers = z.output<typeof person>;

/** Keys of each part, for the interview, the explained example and its test. */
export const answerParts = { programme, clinic, laboratory, person, sms, telegram, price: money, top: answersSchema };

const known = Object.values(answerParts).flatMap((part) => Object.keys(part.shape));

/** The answers, or null with what is wrong; each with its line of the file. */
export interface ReadAnswers {
  /** While there is a problem only for finding further ones: what could not be read has a stand-in there. */
  readonly answers: Answers | null;
  readonly problems: readonly Problem[];
  /** Line of a path among `answers`. */
  readonly lineOf: (path: Path) => number;
  /** A path among `answers` as the file counts. */
  readonly pathInFile: (path: Path) => Path;
}

/** Reads the file. Never throws. */
export function readAnswers(file: string, text: string): ReadAnswers {
  const source = readYaml(file, text);
  const asItIs = (path: Path): Path => path;
  if (source.problems.length > 0) {
    return { answers: null, problems: source.problems, lineOf: source.lineOf, pathInFile: asItIs };
  }
  const parsed = answersSchema.safeParse(source.data, { reportInput: true });
  if (parsed.success) {
    const problems = senseProblems(file, parsed.data, { lineOf: source.lineOf, pathInFile: asItIs });
    return { answers: parsed.data, problems, lineOf: source.lineOf, pathInFile: asItIs };
  }
  const problems = schemaProblems(source, parsed.error, known);
  const readable = withStandIns(source.data, parsed.error.issues);
  const again = readable && answersSchema.safeParse(readable.data);
  if (!readable || !again?.success) return { answers: null, problems, lineOf: source.lineOf, pathInFile: asItIs };
  const pathInFile = ([part, index, ...rest]: Path): Path =>
    part === 'people' && typeof index === 'number'
      ? [part, readable.people[index]!, ...rest]
      : [part, index, ...rest].filter((step) => step !== undefined);
  const lineOf = (path: Path): number => source.lineOf(pathInFile(path));
  const ofSense = senseProblems(file, again.data, { lineOf, pathInFile });
  return { answers: again.data, problems: [...problems, ...ofSense], lineOf, pathInFile };
}

/** What each part alone cannot know. */
function senseProblems(
  file: string,
  answers: Answers,
  { lineOf, pathInFile }: Pick<ReadAnswers, 'lineOf' | 'pathInFile'>,
): readonly Problem[] {
  const problems: Problem[] = [];
  const fault = (path: Path, what: string, todo: string) =>
    problems.push({ file, line: lineOf(path), path: pathInFile(path).join('.') || '-', what, todo });
  for (const kind of ['clinics', 'laboratories'] as const) {
    const seen = new Set<string>();
    for (const [index, one] of answers[kind].entries()) {
      if (seen.has(one.id)) fault([kind, index, 'id'], `${one.id} stands twice`, 'give each its own');
      seen.add(one.id);
    }
  }
  for (const [index, one] of answers.clinics.entries()) {
    if (answers.laboratories.some(({ id }) => id === one.laboratory)) continue;
    const todo = `use one of: ${idsOf(answers.laboratories)}`;
    fault(['clinics', index, 'laboratory'], `there is no laboratory ${one.laboratory}`, todo);
  }
  for (const [index, one] of answers.people.entries()) {
    const at = ['people', index];
    if (one.clinic !== undefined && one.laboratory !== undefined) {
      fault([...at, 'laboratory'], 'a clinic and a laboratory', 'keep the one where this person works');
    }
    if (one.roles.includes('lab') && one.laboratory === undefined) {
      fault(at, 'is of no laboratory', `add laboratory: with one of: ${idsOf(answers.laboratories)}`);
    }
    if (one.roles.includes('worker') && one.clinic === undefined) {
      fault(at, 'is of no clinic', `add clinic: with one of: ${idsOf(answers.clinics)}`);
    }
    if (one.language !== undefined && !answers.programme.languages.includes(one.language)) {
      const todo = `use one of: ${answers.programme.languages.join(', ')}, or add it under programme.languages`;
      fault([...at, 'language'], `the programme has no language ${one.language}`, todo);
    }
    for (const [place, address] of one.addresses.entries()) {
      const link = address.startsWith('telegram:') ? 'telegram' : 'sms';
      if (answers[link] === undefined) {
        fault([...at, 'addresses', place], `there is no ${link} link`, `add ${link}: or give another address`);
      }
    }
  }
  if (answers.sms === undefined && answers.telegram === undefined) {
    fault([], 'there is no link', 'add sms: or telegram:, people reach the line by nothing else');
  }
  if (answers.sms?.gateway === 'generic' && answers.sms.mapping === undefined) {
    fault(['sms', 'gateway'], 'generic has no mapping', 'add mapping: with the file of its field names');
  }
  if (isInside(answers.keyFile, answers.data)) {
    fault(['keyFile'], 'stands in the data folder and would travel with its copies', 'name a file outside of it');
  }
  return problems;
}

function isInside(file: string, folder: string): boolean {
  return file.startsWith(`${folder.replace(/\/+$/, '')}/`);
}

function idsOf(places: readonly { readonly id: string }[]): string {
  return places.map((one) => one.id).join(', ');
}
