/** Reads the mapping of a gateway that is not shipped from its configuration file. */
import { z } from 'zod';
import { patternFault } from './access-log.ts';
import type { GatewayMapping } from './mapping.ts';

const words = z.array(z.string());
const statuses = z.array(z.number().int().min(100).max(599));
const name = z.string().min(1);
const sendFields = z.enum([
  'to',
  'from',
  'text',
  'coding',
  'validityMinutes',
  'priority',
  'reference',
  'reportUrl',
  'user',
  'password',
]);
const timeUnits = z.enum(['seconds', 'milliseconds', 'written']);

const schema = z.strictObject({
  name,
  inbound: z.strictObject({
    each: name.nullable().default(null),
    from: name,
    to: name.nullable(),
    id: name.nullable(),
    time: name.nullable(),
    timeUnit: timeUnits,
    text: name.nullable(),
    header: name.nullable(),
  }),
  accessLog: z.strictObject({ line: name, time: timeUnits }).nullable().default(null),
  report: z.strictObject({
    each: name.nullable().default(null),
    reference: name,
    status: name,
    statusHole: z.string(),
    accepted: words,
    delivered: words.min(1),
    failed: words.min(1),
  }),
  send: z.strictObject({
    body: z.enum(['text', 'form', 'json']),
    put: z.partialRecord(sendFields, name),
    numbers: z.array(sendFields).default([]),
    fixed: z.record(z.string(), z.union([z.string(), z.number(), z.boolean()])),
    headers: z.record(z.string(), z.string()).default({}),
    basic: z.boolean(),
    coding: z.strictObject({ 'GSM-7': z.string(), 'UCS-2': z.string() }),
    priority: z.strictObject({ sos: z.string(), reply: z.string(), notice: z.string(), reminder: z.string() }),
    taken: statuses.min(1),
    result: z
      .strictObject({ status: name, taken: words.min(1), later: words.default([]), never: words.default([]) })
      .nullable()
      .default(null),
    later: statuses,
    never: statuses,
    joins: z.boolean(),
    partsAtMost: z.number().int().min(1).max(255),
  }),
});

/** The mapping of a JSON text, or what is wrong with it in one line. */
export function readMapping(text: string): { ok: true; value: GatewayMapping } | { ok: false; fault: string } {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return { ok: false, fault: 'expected JSON' };
  }
  const read = schema.safeParse(json);
  if (!read.success) {
    const issue = read.error.issues[0]!;
    return { ok: false, fault: `${issue.path.join('.') || '(root)'}: ${issue.message}` };
  }
  const logFault = read.data.accessLog === null ? null : patternFault(read.data.accessLog.line);
  if (logFault !== null) return { ok: false, fault: `accessLog.line: ${logFault}` };
  const { put, body, fixed, numbers, headers } = read.data.send;
  if (!put.to || (body !== 'text' && !put.text)) return { ok: false, fault: 'send.put: to and text are needed' };
  if (body !== 'json' && numbers.length > 0) return { ok: false, fault: 'send.numbers: expected body json' };
  const clash = body === 'json' ? pathClash([...Object.keys(fixed), ...Object.values(put)]) : null;
  if (clash !== null) return { ok: false, fault: `send: ${clash}: two fields stand in one place` };
  const badHeader = Object.entries(headers).find((one) => !isHeader(...one))?.[0];
  if (badHeader !== undefined) {
    return { ok: false, fault: `send.headers.${badHeader}: expected a header; it may hold {user} and {password}` };
  }
  return { ok: true, value: read.data as GatewayMapping };
}

/** A path that is another one's too, or the beginning of it; null = none. */
function pathClash(paths: readonly string[]): string | null {
  const clash = paths.find((one, place) =>
    paths.some((other, at) => at !== place && (other === one || other.startsWith(`${one}.`))),
  );
  return clash ?? null;
}

function isHeader(header: string, value: string): boolean {
  return /^[\w!#$%&'*+.^`|~-]+$/.test(header) && /^(?:[\x20-\x7a|\x7e]|\{(?:user|password)\})*$/.test(value);
}
