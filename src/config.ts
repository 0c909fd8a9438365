/** The settings: read from the environment and from a file once, checked, frozen. The only reader of `process.env`. */
import { readFileSync } from 'node:fs';
import { isAbsolute } from 'node:path';
import { z } from 'zod';
import { readSecrets } from './channels/sms/secrets.ts';
import { type LineFault, readSettingsFile } from './settings-file.ts';

const port = z
  .string()
  .regex(/^\d{1,5}$/, 'a port number, 0 to 65535')
  .transform(Number)
  .refine((value) => value <= 65_535, 'a port number, 0 to 65535');
const url = z.url({ protocol: /^https?$/, error: 'an http or https address' }).optional();
const text = z.string().optional();
const yes = z.literal('yes', { error: 'yes, or leave it empty' }).optional();
const perSecond = z
  .string()
  .regex(/^\d{1,3}(\.\d{1,2})?$/, 'a number such as 5 or 0.3')
  .transform(Number)
  .refine((value) => value > 0, 'more than 0')
  .optional();
const perDay = z
  .string()
  .regex(/^[1-9]\d{0,6}$/, 'a whole number such as 1000')
  .transform(Number)
  .optional();
const gateway = z.enum(['kannel', 'generic'], { error: 'kannel or generic' }).optional();
const token = z.string().min(8, 'at least 8 characters').optional();
/** Of what a door is held with; shorter ones are words that somebody thought of. Our convention. */
const leastSecret = 16;
const secret = z.string().min(leastSecret, `at least ${leastSecret} characters`).optional();
const oneOrTwo = z
  .string()
  .refine((text) => readSecrets(text).length <= 2, 'one secret, or two during a change')
  .refine(
    (text) => readSecrets(text).every((one) => one.length >= leastSecret),
    `at least ${leastSecret} characters, in each of two`,
  )
  .optional();

const schema = z.object({
  NECKLINE_DATA: text,
  NECKLINE_PROGRAMME: text,
  NECKLINE_BENCH_PORT: port.optional(),
  NECKLINE_BENCH_LANGUAGE: z
    .string()
    .regex(/^[a-z]{2,3}(-[A-Z]{2})?$/, 'a language as en, fr or fr-CM')
    .optional(),
  NECKLINE_HTTP_PORT: port.default(8099),
  NECKLINE_HTTP_HOST: z.string().default('127.0.0.1'),
  NECKLINE_SMS_GATEWAY: gateway,
  NECKLINE_SMS_SEND_URL: url,
  NECKLINE_SMS_USER: text,
  NECKLINE_SMS_PASSWORD: text,
  NECKLINE_SMS_NUMBER: text,
  NECKLINE_SMS_SECRET: oneOrTwo,
  NECKLINE_SMS_PREFIXES: text,
  NECKLINE_SMS_COUNTRY: text,
  NECKLINE_SMS_MAPPING: text,
  NECKLINE_SMS_PER_SECOND: perSecond,
  NECKLINE_SMS_PER_DAY: perDay,
  NECKLINE_SMS_KEYWORD: z
    .string()
    .regex(/^[A-Za-z][A-Za-z0-9]{1,11}$/, 'one word of 2 to 12 letters and digits, a letter first')
    .optional(),
  NECKLINE_SMS_GET: yes,
  NECKLINE_SMS_QUERY_SECRET: yes,
  NECKLINE_SMS2_GATEWAY: gateway,
  NECKLINE_SMS2_SEND_URL: url,
  NECKLINE_SMS2_USER: text,
  NECKLINE_SMS2_PASSWORD: text,
  NECKLINE_SMS2_NUMBER: text,
  NECKLINE_SMS2_SECRET: oneOrTwo,
  NECKLINE_SMS2_PREFIXES: text,
  NECKLINE_SMS2_MAPPING: text,
  NECKLINE_SMS2_PER_SECOND: perSecond,
  NECKLINE_SMS2_PER_DAY: perDay,
  NECKLINE_TELEGRAM_TOKEN: token,
  NECKLINE_TELEGRAM_API_ROOT: url,
  NECKLINE_TELEGRAM_WEBHOOK_URL: url,
  NECKLINE_TELEGRAM_SECRET: secret,
  NECKLINE_LOG: z.enum(['debug', 'info', 'warn', 'error'], { error: 'debug, info, warn or error' }).default('info'),
  NECKLINE_KEY_FILE: text,
  NECKLINE_BACKUP_KEY: text,
  NECKLINE_METRICS_TOKEN: secret,
  NECKLINE_ALERT_URL: url,
  NECKLINE_ALERT_TOKEN: token,
  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, 'postgres://...')
    .optional(),
});

/** Secrets may come in a file of their own, named by `<setting>_FILE`. */
const secrets = [
  'NECKLINE_SMS_PASSWORD',
  'NECKLINE_SMS_SECRET',
  'NECKLINE_SMS2_PASSWORD',
  'NECKLINE_SMS2_SECRET',
  'NECKLINE_TELEGRAM_TOKEN',
  'NECKLINE_TELEGRAM_SECRET',
  'NECKLINE_METRICS_TOKEN',
  'NECKLINE_ALERT_TOKEN',
  'DATABASE_URL',
] as const;

/** With the folder of the data filled in. */
const whole = schema.transform((given) => ({ ...given, NECKLINE_DATA: given.NECKLINE_DATA ?? dataOf(given) }));

/** The bench of a programme of one's own mixes neither its people nor its key with those of the invented one. */
function dataOf(given: z.infer<typeof schema>): string {
  return given.NECKLINE_PROGRAMME !== undefined && realParts(given).length === 0 ? './data/own' : './data';
}

export type Settings = Readonly<z.infer<typeof whole>>;

/** Settings, or one line for each fault. No line holds a value: a setting may be a secret. */
export type ReadSettings =
  | { readonly ok: true; readonly settings: Settings }
  | {
      readonly ok: false;
      readonly faults: readonly string[];
      /** What can be used all the same, to find further faults: settings with a fault are absent or their default. */
      readonly sound: Settings;
    };

/** Names of all settings, for the documents and their test. */
export const settingNames: readonly string[] = [...Object.keys(schema.shape), ...secrets.map((name) => `${name}_FILE`)];

/** True when the environment holds any setting. */
export function hasSettings(environment: Environment = process.env): boolean {
  return settingNames.some((name) => Boolean(environment[name]?.trim()));
}

/** Settings that name a place on the disk. */
const isPath = (name: string): boolean =>
  name.endsWith('_FILE') ||
  [
    'NECKLINE_DATA',
    'NECKLINE_PROGRAMME',
    'NECKLINE_BACKUP_KEY',
    'NECKLINE_SMS_MAPPING',
    'NECKLINE_SMS2_MAPPING',
  ].includes(name);

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Reads and checks settings; an empty value is an absent one. `file`: a settings file, read together with the environment:
 * what both say differently is a fault.
 */
export function readSettings(environment: Environment = process.env, file: string | null = null): ReadSettings {
  const faults: string[] = [];
  const said = file === null ? environment : bothSay(environment, file, faults);
  const given: Record<string, string> = {};
  for (const name of Object.keys(schema.shape)) {
    const value = said[name]?.trim();
    if (value) given[name] = value;
  }
  for (const name of secrets) {
    const secretFile = said[`${name}_FILE`]?.trim();
    if (!secretFile) continue;
    if (given[name]) {
      faults.push(`${name}: given twice, also as ${name}_FILE; keep one`);
      continue;
    }
    try {
      const value = readFileSync(secretFile, 'utf8').trim();
      if (value) given[name] = value;
    } catch {
      faults.push(`${name}_FILE: cannot be read`);
    }
  }
  for (const [name, value] of Object.entries(environment)) {
    const ours = name.startsWith('NECKLINE_') && Boolean(value?.trim());
    if (ours && !settingNames.includes(name)) faults.push(`${name}: no such setting`);
  }
  const read = whole.safeParse(given);
  if (!read.success)
    for (const issue of read.error.issues) faults.push(`${issue.path.join('.')}: expected ${issue.message}`);
  if (read.success && faults.length === 0) return { ok: true, settings: Object.freeze(read.data) };
  const faulty = new Set(read.success ? [] : read.error.issues.map((issue) => String(issue.path[0])));
  const sound = Object.fromEntries(Object.entries(given).filter(([name]) => !faulty.has(name)));
  // A misspelt gateway is still one: all that SMS needs is looked at.
  if (faulty.has('NECKLINE_SMS_GATEWAY')) sound.NECKLINE_SMS_GATEWAY = 'kannel';
  return { ok: false, faults, sound: Object.freeze(whole.parse(sound)) };
}

/** Environment and file as one. Faults of the file, with its lines, are added. */
function bothSay(environment: Environment, file: string, faults: string[]): Environment {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    faults.push(`${file}: ${whyUnread(error)}`);
    return environment;
  }
  const read = readSettingsFile(text);
  const found: LineFault[] = [...read.faults];
  const both: Record<string, string | undefined> = { ...environment };
  for (const [name, value] of Object.entries(read.values)) {
    const [mine, theirs] = [value.trim(), environment[name]?.trim()];
    const fault = (expected: string): number => found.push({ line: read.lines[name]!, name, expected });
    if (!settingNames.includes(name)) {
      // What Node itself reads comes from the unit.
      if (mine && !name.startsWith('NODE_')) fault('a setting; there is none of this name');
    } else if (mine && theirs && mine !== theirs) {
      fault('what the environment of this command says too, which is something else; keep one of them');
    } else if (mine && isPath(name) && !isAbsolute(mine)) {
      fault('a whole path, from / on: commands are called from many folders');
    } else if (mine) both[name] = value;
  }
  found.sort((a, b) => a.line - b.line);
  for (const { line, name, expected } of found) {
    faults.push(`${file}:${line}: ${name === '' ? '' : `${name}: `}expected ${expected}`);
  }
  return both;
}

function whyUnread(error: unknown): string {
  switch ((error as NodeJS.ErrnoException).code) {
    case 'ENOENT':
      return 'there is no such settings file';
    case 'EACCES':
      return "this user may not read the settings file; run the command as the line's user, e.g. sudo -u neckline";
    default:
      return 'the settings file cannot be read';
  }
}

/** Names of the real channels and databases that are configured. */
export function realParts(settings: Omit<Settings, 'NECKLINE_DATA'>): readonly string[] {
  return [
    ...(settings.NECKLINE_TELEGRAM_TOKEN ? ['Telegram'] : []),
    ...(settings.NECKLINE_SMS_GATEWAY || settings.NECKLINE_SMS_SEND_URL || settings.NECKLINE_SMS2_GATEWAY
      ? ['SMS']
      : []),
    ...(settings.DATABASE_URL ? ['PostgreSQL'] : []),
  ];
}
