/**
 * What a clinician of the programme has to sign before patients depend on it, read from the papers themselves: values of
 * the programme and clinical numbers that are marked as a convention, and hazards marked `S`.
 */
import type { SignOff } from '../generated/sign-offs.ts';
import { tableRows } from './markdown-table.ts';

/** The texts of the three papers. */
export interface SignOffPapers {
  /** `flows/programme.yaml` */
  readonly programme: string;
  /** `deploy/clinical-numbers.md` */
  readonly numbers: string;
  /** `deploy/hazards.md` */
  readonly hazards: string;
}

const programmeFile = 'flows/programme.yaml';
const ourConvention = /our convention/i;

/** All that is to be signed, by the order of the papers. Throws where the papers contradict one another, which is a bug. */
export function signOffsOf({ programme, numbers, hazards }: SignOffPapers): readonly SignOff[] {
  const rows = numbers
    .split(/^(?=## )/m)
    .flatMap(rowsOfSection)
    .filter((row) => ourConvention.test(row.Source ?? ''));
  const ofProgramme = rows.filter((row) => row.File === programmeFile);
  const named = new Map(
    ofProgramme.map((row) => [/`([a-z0-9-]+):/.exec(row['As it stands there'] ?? '')?.[1] ?? '', row.What ?? '']),
  );
  const marked = conventionsIn(programme);
  const unmarked = [...named.keys()].filter((key) => !marked.some((one) => keyOf(one.id) === key));
  if (unmarked.length > 0) throw new Error(`listed as a convention, not marked in ${programmeFile}: ${unmarked}`);
  return [
    ...marked.map(({ id, why }) => ({ id, kind: 'programme' as const, what: named.get(keyOf(id)) ?? firstWords(why) })),
    ...rows
      .filter((row) => row.File !== programmeFile)
      .map((row) => ({
        id: `numbers.${slugOf(row.What ?? '')}`,
        kind: 'number' as const,
        what: `${row.What ?? ''} (${row.heading})`,
        value: row.Value ?? '',
      })),
    ...tableRows(hazards)
      .filter((row) => isForSignature(row.Remains ?? ''))
      .map((row) => ({
        id: row['No.'] ?? '',
        kind: 'hazard' as const,
        what: row.Hazard ?? '',
        value: hazardWords(row),
      })),
  ];
}

/** A row alone does not always say of what its number is: with the heading above its table. */
function rowsOfSection(section: string): readonly Readonly<Record<string, string>>[] {
  const heading = /^## (.*)/.exec(section)?.[1] ?? '';
  return tableRows(section).map((row) => ({ ...row, heading }));
}

/** `S` alone, as the log marks a row. */
function isForSignature(remains: string): boolean {
  return /(?<![\w'-])S(?![\w'-])/.test(remains);
}

/** A row without its proofs: a test that gets another name changes nothing that was agreed to. */
function hazardWords(row: Readonly<Record<string, string>>): string {
  const said = (name: string): string => `${name}: ${row[name] ?? ''}`;
  return ['Cause', 'Harm', 'Severity', 'Before', 'Control', 'After', 'Remains'].map(said).join('. ');
}

/** A comment up to where it explains itself. */
function firstWords(comment: string): string {
  return comment.split(/[:;.](?:\s|$)/)[0] ?? comment;
}

interface Marked {
  /** Dotted path in the programme; of all laboratories in one. */
  readonly id: string;
  readonly why: string;
}

/** Keys of the programme that are a convention by the comment behind or above them, save what is about texting alone. */
function conventionsIn(yaml: string): readonly Marked[] {
  const found = new Map<string, string>();
  const parents: { readonly indent: number; readonly key: string; readonly all: string | null }[] = [];
  let above = '';
  for (const line of yaml.split('\n')) {
    const [, space = '', key = '', rest = ''] = /^( *)([a-z][\w-]*):(.*)$/i.exec(line) ?? [];
    const comment = /(?:^|\s)#\s?(.*)$/.exec(line)?.[1] ?? '';
    if (key === '') {
      above = /^\s*#/.test(line) ? `${above} ${comment}`.trim() : '';
      continue;
    }
    while ((parents.at(-1)?.indent ?? -1) >= space.length) parents.pop();
    const why = `${above} ${comment}`.trim();
    above = '';
    const own = isConvention(why) ? why : null;
    const marked = own ?? parents.at(-1)?.all ?? null;
    const isSection = /^\s*(#.*)?$/.test(rest);
    if (marked !== null && !isSection) found.set(pathOf([...parents.map((one) => one.key), key]), own ?? key);
    if (isSection) parents.push({ indent: space.length, key, all: marked });
  }
  return [...found].map(([id, why]) => ({ id, why }));
}

function isConvention(comment: string): boolean {
  return /convention/i.test(comment.replace(/line convention/gi, ''));
}

function pathOf(keys: readonly string[]): string {
  return (keys[0] === 'laboratories' ? [keys[0], ...keys.slice(2)] : keys).join('.');
}

function keyOf(id: string): string {
  return id.slice(id.lastIndexOf('.') + 1);
}

function slugOf(what: string): string {
  return what
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '');
}
