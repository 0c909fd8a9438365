/**
 * Answers with a fault in their form, made readable for the one purpose of finding further faults in the same go: nothing is
 * ever written of them.
 */
import type { z } from 'zod';
import type { Path } from '../content/yaml-source.ts';

/** What stands for a value that cannot be read, by its key. Ids have none: others point to them. */
const standIns: Readonly<Record<string, unknown>> = {
  ...{ name: 'Nobody', zone: 'UTC', policy: 'common-practice', languages: ['en'] },
  ...{ hospital: 'Nowhere', night: 'Nowhere', voiceNumber: '000', guidance: true },
  ...{
    address: 'Nowhere',
    stain: 'wet',
    slides: 1,
    alcohol: 'stay-in-alcohol',
    fluid: 'ask',
    system: 'Thy',
    assays: [],
  },
  ...{ open: [1], marking: 'Nothing', gateway: 'kannel', sendUrl: 'http://127.0.0.1', user: 'nobody', number: '0' },
  ...{ casesAMonth: 0, data: '/data', keyFile: '/key', backupKey: '/backup.public' },
};
/** Parts in which nobody else is named: without their values all else can be read. */
const emptied: Readonly<Record<string, unknown>> = { price: undefined, telegram: {} };

export interface Readable {
  readonly data: unknown;
  /** Places of the people that are left, in the file. */
  readonly people: readonly number[];
}

/** The data without what the issues name: people are left out, other values have a stand-in. Null where one has none. */
export function withStandIns(data: unknown, issues: readonly z.core.$ZodIssue[]): Readable | null {
  if (typeof data !== 'object' || data === null || !Array.isArray((data as { people?: unknown }).people)) return null;
  const copy = structuredClone(data) as { people: unknown[] } & Record<string, unknown>;
  const faulty = new Set<unknown>();
  for (const issue of issues) {
    const [part, index] = issue.path;
    if (part === 'people' && index !== undefined) faulty.add(index);
    else if (!mended(copy, issue)) return null;
  }
  const people = copy.people.map((_, index) => index).filter((index) => !faulty.has(index));
  return { data: { ...copy, people: people.map((index) => copy.people[index]) }, people };
}

function mended(copy: Record<string, unknown>, issue: z.core.$ZodIssue): boolean {
  const path = issue.path as Path;
  const [part] = path;
  if (issue.code === 'unrecognized_keys') {
    const holder = at(copy, path);
    if (!holder) return false;
    for (const key of issue.keys) delete holder[key];
    return true;
  }
  if (typeof part === 'string' && part in emptied) {
    copy[part] = emptied[part];
    return true;
  }
  const deepest = path.findLastIndex((step) => typeof step === 'string');
  const key = path[deepest];
  const holder = at(copy, path.slice(0, deepest));
  if (typeof key !== 'string' || !(key in standIns) || !holder) return false;
  holder[key] = standIns[key];
  return true;
}

function at(data: Record<string, unknown>, path: Path): Record<string, unknown> | null {
  let value: unknown = data;
  for (const step of path) value = (value as Record<string | number, unknown> | undefined)?.[step];
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : null;
}
