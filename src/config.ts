/** The settings: read from the environment once, checked, frozen. The only reader of `process.env`. */
import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { readSecrets } from './channels/sms/secrets.ts';

const port = z
  .string()
  .regex(/^\d{1,5}$/, 'a port number, 0 to 65535')
  .transform(Number)
  .refine((value) => value <= 65_535, 'a port number, 0 to 65535');
const url = z.url({ protocol: /^https?$/, error: 'an http or https address' }).optional();
const text = z.string().optional();
const yes = z.literal('yes', { error: 'yes, or leave it empty' }).optional();
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
  NECKLINE_DATA: z.string().default('./data'),
  NECKLINE_PROGRAMME: text,
  NECKLINE_BENCH_PORT: port.optional(),
  NECKLINE_HTTP_PORT: port.default(8099),
  NECKLINE_HTTP_HOST: z.string().default('127.0.0.1'),
  NECKLINE_SMS_GATEWAY: z.enum(['kannel', 'generic'], { error: 'kannel or generic' }).optional(),
  NECKLINE_SMS_SEND_URL: url,
  NECKLINE_SMS_USER: text,
  NECKLINE_SMS_PASSWORD: text,
  NECKLINE_SMS_NUMBER: text,
  NECKLINE_SMS_SECRET: oneOrTwo,
  NECKLINE_SMS_PREFIXES: text,
  NECKLINE_SMS_COUNTRY: text,
  NECKLINE_SMS_MAPPING: text,
  NECKLINE_SMS_GET: yes,
  NECKLINE_SMS_QUERY_SECRET: yes,
  NECKLINE_TELEGRAM_TOKEN: token,
  NECKLINE_TELEGRAM_API_ROOT: url,
  NECKLINE_TELEGRAM_WEBHOOK_URL: url,
  NECKLINE_TELEGRAM_SECRET: secret,
  NECKLINE_LOG: z.enum(['debug', 'info', 'warn', 'error'], { error: 'debug, info, warn or error' }).default('info'),
  NECKLINE_KEY_FILE: text,
  NECKLINE_BACKUP_KEY: text,
  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, 'postgres://...')
    .optional(),
});

/** Secrets may come in a file of their own, named by `<setting>_FILE`. */
const secrets = [
  'NECKLINE_SMS_PASSWORD',
  'NECKLINE_SMS_SECRET',
  'NECKLINE_TELEGRAM_TOKEN',
  'NECKLINE_TELEGRAM_SECRET',
  'DATABASE_URL',
] as const;

export type Settings = Readonly<z.infer<typeof schema>>;

/** Settings, or one line for each fault. No line holds a value: a setting may be a secret. */
export type ReadSettings =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly faults: readonly string[] };

/** Names of all settings, for the documents and their test. */
export const settingNames: readonly string[] = [...Object.keys(schema.shape), ...secrets.map((name) => `${name}_FILE`)];

/** Reads and checks settings; an empty value is an absent one. */
export function readSettings(environment: Readonly<Record<string, string | undefined>> = process.env): ReadSettings {
  const given: Record<string, string> = {};
  const faults: string[] = [];
  for (const name of Object.keys(schema.shape)) {
    const value = environment[name]?.trim();
    if (value) given[name] = value;
  }
  for (const name of secrets) {
    const file = environment[`${name}_FILE`]?.trim();
    if (!file) continue;
    if (given[name]) {
      faults.push(`${name}: given twice, also as ${name}_FILE; keep one`);
      continue;
    }
    try {
      const value = readFileSync(file, 'utf8').trim();
      if (value) given[name] = value;
    } catch {
      faults.push(`${name}_FILE: cannot be read`);
    }
  }
  for (const [name, value] of Object.entries(environment)) {
    const ours = name.startsWith('NECKLINE_') && Boolean(value?.trim());
    if (ours && !settingNames.includes(name)) faults.push(`${name}: no such setting`);
  }
  const read = schema.safeParse(given);
  if (!read.success)
    for (const issue of read.error.issues) faults.push(`${issue.path.join('.')}: expected ${issue.message}`);
  if (!read.success || faults.length > 0) return { ok: false, faults };
  return { ok: true, settings: Object.freeze(read.data) };
}

/** Names of the real channels and databases that are configured. */
export function realParts(settings: Settings): readonly string[] {
  return [
    ...(settings.NECKLINE_TELEGRAM_TOKEN ? ['Telegram'] : []),
    ...(settings.NECKLINE_SMS_GATEWAY || settings.NECKLINE_SMS_SEND_URL ? ['SMS'] : []),
    ...(settings.DATABASE_URL ? ['PostgreSQL'] : []),
  ];
}
