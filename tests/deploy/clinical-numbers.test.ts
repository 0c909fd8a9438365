import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { tableRows } from '../support/tables.ts';

const root = new URL('../../', import.meta.url);
const read = (path: string): string => readFileSync(new URL(path, root), 'utf8');
const list = read('deploy/clinical-numbers.md');

interface Row {
  readonly what: string;
  readonly value: string;
  readonly file: string;
  readonly spans: readonly string[];
  readonly source: string;
  readonly tests: readonly string[];
}

const rows: readonly Row[] = tableRows(list).map((row) => ({
  what: row.What ?? '',
  value: row.Value ?? '',
  file: row.File ?? '',
  spans: [...(row['As it stands there'] ?? '').matchAll(/`([^`]+)`/g)].map((found) => found[1]!),
  source: row.Source ?? '',
  tests: (row.Test ?? '').split(' '),
}));
const named = rows.map((row) => [`${row.what} (${row.file})`, row] as const);

/** The numbers of a piece of code; in words between quotes only where there is nothing else. 0 and 1 are no figures. */
function numbersIn(span: string): readonly string[] {
  const bare = span.replace(/'[^']*'/g, ' ').replace(/[A-Za-z_][\w-]*/g, ' ');
  const found = (/\d/.test(bare) ? bare : span).match(/\d+(?:\.\d+)?/g) ?? [];
  return found.filter((one) => one !== '0' && one !== '1');
}

describe('the list of clinical numbers', () => {
  it('has no row without value, source and test', () => {
    expect(rows.length).toBeGreaterThan(120);
    const broken = rows.filter(
      ({ what, value, file, spans, source, tests }) =>
        what === '' || value === '' || file === '' || spans.length === 0 || source === '' || tests[0] === '',
    );
    expect(broken).toEqual([]);
  });

  it.each(named)('%s: stands in the file as the list has it, and the value says its figures', (_what, row) => {
    const source = read(row.file);
    const said = row.value.match(/\d+(?:\.\d+)?/g) ?? [];
    for (const span of row.spans) {
      expect(source, span).toContain(span);
      for (const figure of numbersIn(span)) expect(said, `${row.value} for ${span}`).toContain(figure);
    }
  });

  it('names tests that exist and expect something', () => {
    for (const path of new Set(rows.flatMap((row) => row.tests))) {
      expect(existsSync(new URL(path, root)), path).toBe(true);
      expect(read(path), path).toMatch(path.endsWith('.play') ? /^\w+<!? ?\S/m : /\bit(\.each)?\(/);
    }
  });
});

describe('no clinical number is missing from the list', () => {
  it('no figure of the clinical code', () => {
    const files = readdirSync(new URL('src/clinical/', root), { recursive: true, encoding: 'utf8' })
      .map((name) => `src/clinical/${name.replaceAll('\\', '/')}`)
      .filter((name) => name.endsWith('.ts') && !wording.includes(name));
    expect(files.length).toBeGreaterThan(25);
    expect(files.flatMap(unlisted)).toEqual([]);
  });

  it('no duration, limit or rung of the programme that is not about texting only', () => {
    const programme = read('flows/programme.yaml');
    const lines = programme.slice(programme.indexOf('\nurgencies:')).split('\n');
    const figures = lines.filter((line) => /^ {2}[a-z0-9-]+: (\d|\{ climb)/.test(line));
    expect(figures.length).toBeGreaterThan(60);
    const listed = rows.filter((row) => row.file === 'flows/programme.yaml').flatMap((row) => row.spans);
    const clinical = figures.filter((line) => !/# line convention/i.test(line)).map((line) => line.trim());
    expect(clinical.length).toBeGreaterThan(40);
    expect(clinical.filter((line) => !listed.some((span) => line.startsWith(span)))).toEqual([]);
  });
});

/** Files whose figures are about reading words and digits, nothing clinical. */
const wording = ['src/clinical/digits.ts', 'src/clinical/cytology/parse.ts', 'src/clinical/cytology/parse-node.ts'];

/** Lines whose figures are arithmetic, places in a list, or bounds of what is read at all. */
const arithmetic = [
  '[mm, (mm + next) / 2]',
  'Math.round(volumeMl([length, width, depth]) * 100) / 100',
  'return 100 * is >= (100 + diameterGrowth.percent) * was && is - was >= diameterGrowth.mm * 10',
  'const was = (100 + volumeGrowthPercent) * product(old)',
  'const is = 100 * product(now)',
  'Math.round(mm * 10)',
  'String(HEPATITIS_B_HOURS.last / 24)',
  'confidence95: [pooled[1], pooled[2]]',
  'range: [row[1], row[2]]',
  '.max(20, { error: expected })',
  '.max(200, { error',
  '.max(3, { error',
  '.length(2, { error',
  '.max(50, { error',
];

/** The figures of a file that no row of the list covers, comments and words between quotes left out. */
function unlisted(file: string): string[] {
  const source = read(file);
  const spaces = (text: string): string => text.replace(/[^\n]/g, ' ');
  const bare = source
    .replace(/\/\*[\s\S]*?\*\/|\/\/[^\n]*/g, spaces)
    .replace(/`(?:[^`\\]|\\.)*`|'(?:[^'\\\n]|\\.)*'/g, spaces);
  const covered = new Set<number>();
  for (const span of [...rows.filter((row) => row.file === file).flatMap((row) => row.spans), ...arithmetic]) {
    for (let at = source.indexOf(span); at >= 0; at = source.indexOf(span, at + 1)) {
      for (let place = at; place < at + span.length; place += 1) covered.add(place);
    }
  }
  return [...bare.matchAll(/(?<![\w.])\d+(?:\.\d+)?(?!\w)/g)]
    .filter((found) => found[0] !== '0' && found[0] !== '1' && !covered.has(found.index))
    .map((found) => `${file}:${source.slice(0, found.index).split('\n').length}: ${found[0]}`);
}

describe('numbers that a programme may set and that nothing reads yet', () => {
  it('are named, and no others', () => {
    const section = /## Set, and not read yet\n([\s\S]*?)(?=\n## |$)/.exec(list)?.[1] ?? '';
    const said = [...section.matchAll(/^- `([a-z0-9-]+)`/gm)].map((found) => found[1]!);
    const folders = ['src/', 'flows/'].flatMap((folder) =>
      readdirSync(new URL(folder, root), { recursive: true, encoding: 'utf8' }).map((name) => `${folder}${name}`),
    );
    const texts = folders.filter((name) => /\.(ts|yaml)$/.test(name) && !name.endsWith('programme.yaml')).map(read);
    const isRead = (name: string): boolean => {
      const use = new RegExp(`(durationOf|limitOf|msOf)\\([^;]*?'${name}'|after: ${name}\\b|rule\\([^)]*'${name}'`);
      const rule = new RegExp(`(=|\\?|:|escalateWithin:) '${name}'`);
      return texts.some((text) => use.test(text) || rule.test(text));
    };
    const names = rows
      .filter((row) => row.file === 'flows/programme.yaml' && !/climb|slides: /.test(row.spans[0]!))
      .map((row) => row.spans[0]!.split(':')[0]!);
    expect(said).toEqual(names.filter((name) => !isRead(name)));
  });
});
