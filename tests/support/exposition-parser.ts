/**
 * A second reading of the text-based exposition format 0.0.4, by its published grammar and stricter than collectors are:
 * HELP before TYPE before samples, each family once, no sample twice, a line feed at the end. Throws on anything else.
 */
export interface ReadFamily {
  readonly type: string;
  readonly help: string;
  readonly samples: {
    readonly name: string;
    readonly labels: Readonly<Record<string, string>>;
    readonly value: number;
  }[];
}

const types = ['counter', 'gauge', 'histogram', 'summary', 'untyped'];
const name = '[a-zA-Z_:][a-zA-Z0-9_:]*';
const number = /^([+-]?Inf|NaN|[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?)$/;

export function readExposition(text: string): ReadonlyMap<string, ReadFamily> {
  if (!text.endsWith('\n')) throw new Error('the last line has no line feed');
  const families = new Map<string, ReadFamily>();
  const seen = new Set<string>();
  let help: { readonly of: string; readonly text: string } | null = null;
  let current: string | null = null;
  for (const line of text.slice(0, -1).split('\n')) {
    const comment = new RegExp(`^# (HELP|TYPE) (${name}) (.*)$`).exec(line);
    if (comment?.[1] === 'HELP') {
      help = { of: comment[2]!, text: unescaped(comment[3]!, 'n\\') };
      continue;
    }
    if (comment) {
      const [, , of = '', type = ''] = comment;
      if (help?.of !== of) throw new Error(`${of} has no help before its type`);
      if (!types.includes(type)) throw new Error(`${of} is a ${type}`);
      if (families.has(of)) throw new Error(`${of} comes twice`);
      families.set(of, { type, help: help.text, samples: [] });
      current = of;
      continue;
    }
    const sample = new RegExp(`^(${name})(?:\\{(.*)\\})? (\\S+)$`).exec(line);
    if (!sample || current === null) throw new Error(`no line of the format: ${line}`);
    const [, full = '', inside, value = ''] = sample;
    const family = families.get(current)!;
    const suffixes = family.type === 'histogram' ? ['_bucket', '_sum', '_count'] : [''];
    if (!suffixes.some((suffix) => full === `${current}${suffix}`)) throw new Error(`${full} stands under ${current}`);
    if (!number.test(value)) throw new Error(`${value} is no number of the format`);
    const labels = inside === undefined ? {} : labelsOf(inside);
    const key = `${full} ${JSON.stringify(Object.entries(labels).sort())}`;
    if (seen.has(key)) throw new Error(`${key} comes twice`);
    seen.add(key);
    family.samples.push({ name: full, labels, value: Number(value.replace('Inf', 'Infinity')) });
  }
  for (const [of, family] of families) if (family.type === 'histogram') checkHistogram(of, family);
  return families;
}

function labelsOf(inside: string): Readonly<Record<string, string>> {
  const labels: Record<string, string> = {};
  let rest = inside;
  while (rest !== '') {
    const pair = /^([a-zA-Z_][a-zA-Z0-9_]*)="((?:[^"\\\n]|\\["\\n])*)"(,|$)/.exec(rest);
    if (!pair) throw new Error(`no labels: ${rest}`);
    if (pair[1]! in labels) throw new Error(`label ${pair[1]} comes twice`);
    labels[pair[1]!] = unescaped(pair[2]!, 'n\\"');
    rest = rest.slice(pair[0].length);
  }
  return labels;
}

function unescaped(text: string, may: string): string {
  return text.replace(/\\(.?)/g, (_all, one: string) => {
    if (one === '' || !may.includes(one)) throw new Error(`\\${one} is no escape`);
    return one === 'n' ? '\n' : one;
  });
}

/** Buckets rise with their ends, the last is endless and holds all. */
function checkHistogram(of: string, { samples }: ReadFamily): void {
  const buckets = samples.filter((one) => one.name === `${of}_bucket`);
  const ends = buckets.map(({ labels }) => Number((labels.le ?? '').replace('Inf', 'Infinity')));
  const counts = buckets.map((one) => one.value);
  const rises = (list: readonly number[]) => list.every((one, index) => index === 0 || list[index - 1]! <= one);
  const total = samples.find((one) => one.name === `${of}_count`)?.value;
  const isWhole = ends.at(-1) === Number.POSITIVE_INFINITY && counts.at(-1) === total;
  if (!rises(ends) || !rises(counts) || !isWhole || !samples.some((one) => one.name === `${of}_sum`)) {
    throw new Error(`${of} is no histogram`);
  }
}
