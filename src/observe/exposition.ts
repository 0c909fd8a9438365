/**
 * The text form in which figures are shown to whatever collects them: version 0.0.4 of the text-based exposition format
 * (families of `# HELP`, `# TYPE` and samples, each ended by a line feed).
 */

export const expositionType = 'text/plain; version=0.0.4; charset=utf-8';

export type FigureType = 'gauge' | 'counter' | 'histogram';

export interface Sample {
  /** Stands behind the family's name: `_bucket`, `_sum`, `_count` of a histogram. */
  readonly suffix?: string;
  readonly labels: Readonly<Record<string, string>>;
  readonly value: number;
}

/** One figure by its name. A family without samples is not written: nothing is known of it. */
export interface Family {
  readonly name: string;
  readonly type: FigureType;
  readonly help: string;
  readonly samples: readonly Sample[];
}

/** All families as one text. Throws on a name that the format does not allow: a fault of the program. */
export function expositionOf(families: readonly Family[]): string {
  return families
    .filter(({ samples }) => samples.length > 0)
    .map(familyText)
    .join('');
}

const nameForm = /^[a-zA-Z_:][a-zA-Z0-9_:]*$/;
const labelForm = /^[a-zA-Z_][a-zA-Z0-9_]*$/;

function familyText({ name, type, help, samples }: Family): string {
  if (!nameForm.test(name)) throw new Error(`figure ${name} has no name of the format`);
  const lines = samples.map(
    ({ suffix = '', labels, value }) => `${name}${suffix}${labelText(labels)} ${valueText(value)}`,
  );
  return `# HELP ${name} ${escaped(help)}\n# TYPE ${name} ${type}\n${lines.join('\n')}\n`;
}

function labelText(labels: Sample['labels']): string {
  const pairs = Object.entries(labels).map(([name, value]) => {
    if (!labelForm.test(name) || name.startsWith('__')) throw new Error(`label ${name} has no name of the format`);
    return `${name}="${escaped(value).replaceAll('"', '\\"')}"`;
  });
  return pairs.length === 0 ? '' : `{${pairs.join(',')}}`;
}

const escaped = (text: string): string => text.replaceAll('\\', '\\\\').replaceAll('\n', '\\n');

function valueText(value: number): string {
  if (Number.isNaN(value)) return 'NaN';
  if (!Number.isFinite(value)) return value > 0 ? '+Inf' : '-Inf';
  return String(value);
}
