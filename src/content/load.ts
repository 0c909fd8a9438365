/** Reads flows, texts and the programme from the package. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Content as SpokenContent } from '../conversation/content.ts';
import type { Flow, FlowSet } from '../conversation/flow.ts';
import type { Programme } from '../conversation/programme.ts';
import { readAlarm } from './alarm-file.ts';
import { buildFlow } from './build-flow.ts';
import { flowKeys, flowSchema } from './flow-schema.ts';
import { type Read, readCautions, readEveryday, readKeywords, readLocaleFile, readMeta } from './locale-file.ts';
import { fromEnglish } from './locale-sources.ts';
import type { Problem } from './problem.ts';
import { readProgramme } from './programme.ts';
import { nameProblems } from './programme-names.ts';
import { readQuick } from './quick-file.ts';
import { readOnce } from './read-once.ts';
import { schemaProblems } from './schema-problems.ts';
import { baseLocale, compileTexts, type Locale } from './texts.ts';
import { type Path, readYaml } from './yaml-source.ts';

/** A flow with its file, for problems. */
export interface FlowSource {
  readonly flow: Flow;
  readonly file: string;
  lineOf(path: Path): number;
}

/** All that the package says to people, and what is wrong with it. Not to be used while `problems` is not empty. */
export interface Content extends SpokenContent {
  /** Hashes of flow structures that nobody may walk on. */
  readonly withdrawn: readonly string[];
  readonly problems: readonly Problem[];
  readonly sources: { readonly flows: readonly FlowSource[]; readonly locales: readonly Locale[] };
}

/** The folder that holds `flows/` and `locales/`, from `src/` and from `dist/` alike, whatever the working folder. */
export const packageRoot: string = fileURLToPath(new URL('../../', import.meta.url));

/**
 * Reads everything and checks its shape; `checkContent` checks its sense. `programmePath`: a programme file outside the
 * package. Throws only when files cannot be read.
 */
export function loadContent(root: string = packageRoot, programmePath: string | null = null): Content {
  const problems: Problem[] = [];
  const keep = <T>(read: Read<T>): T | null => {
    problems.push(...read.problems);
    return read.value;
  };

  const [base, programmeFile] = programmePath === null ? [root, join('flows', 'programme.yaml')] : ['', programmePath];
  const { programme, withdrawn } = readIfThere(base, programmeFile, problems, (file, text) => {
    const read = readProgramme(file, text);
    problems.push(...read.problems);
    if (programmePath !== null) problems.push(...nameProblems(file, read, shippedProgramme(root)));
    return read;
  }) ?? { programme: null, withdrawn: [] };

  const flows = filesIn(root, 'flows', '.yaml')
    .filter((name) => name !== 'programme')
    .flatMap((name) => {
      const file = `flows/${name}.yaml`;
      return keep(readOnce(file, readText(root, file), (of, text) => readFlow(name, of, text))) ?? [];
    });
  const there = foldersIn(root, 'locales');
  problems.push(...languageProblems(programme, programmeFile, there));
  const tags = there.filter((tag) => isSpoken(programme, tag));
  const locales = tags.map((tag) => readLocale(root, tag, problems, keep));
  const quick = tags.flatMap((tag) => {
    const read = readIfThere(root, `locales/${tag}/quick.json`, problems, (file, text) =>
      keep(readOnce(file, text, readQuick)),
    );
    return read ? [[tag, read] as const] : [];
  });
  if (!locales.some((locale) => locale.tag === 'en')) {
    problems.push({ file: 'locales', line: 1, path: '-', what: 'there is no English', todo: 'add locales/en' });
  }
  return {
    flows: flowSet(flows.map((source) => source.flow)),
    texts: compileTexts(locales),
    quick: new Map(quick),
    programme: programme ?? noProgramme,
    withdrawn,
    problems,
    sources: { flows, locales },
  };
}

/** Whether the programme speaks the language, or one that falls back to it; English is what every text exists in. */
function isSpoken(programme: Programme | null, tag: string): boolean {
  const { languages } = programme ?? noProgramme;
  return languages === 'all' || tag === baseLocale || languages.some((one) => one === tag || one.split('-')[0] === tag);
}

function languageProblems(programme: Programme | null, file: string, there: readonly string[]): readonly Problem[] {
  const { languages } = programme ?? noProgramme;
  return (languages === 'all' ? [] : languages)
    .filter((one) => !there.includes(one))
    .map((one) => {
      const at = { file, line: 1, path: 'languages' };
      return { ...at, what: `there is no language ${one}`, todo: `use some of: ${there.join(', ')}` };
    });
}

/** The flows by name and by hash; older structures can be added to `byHash` later. */
export function flowSet(flows: readonly Flow[], older: readonly Flow[] = []): FlowSet {
  return {
    newest: new Map(flows.map((flow) => [flow.name, flow])),
    byHash: new Map([...older, ...flows].map((flow) => [flow.hash, flow])),
  };
}

/** Reads one flow. Null with problems when its shape is wrong. */
export function readFlow(name: string, file: string, text: string): Read<FlowSource> {
  const source = readYaml(file, text);
  if (source.problems.length > 0) return { value: null, problems: source.problems };
  const parsed = flowSchema.safeParse(source.data, { reportInput: true });
  if (!parsed.success) return { value: null, problems: schemaProblems(source, parsed.error, flowKeys) };
  const problems: Problem[] = [];
  if (parsed.data.flow !== name) {
    const what = `the flow is called ${parsed.data.flow} and its file ${name}`;
    problems.push({ file, line: source.lineOf(['flow']), path: 'flow', what, todo: 'give both the same name' });
  }
  return { value: { flow: buildFlow(parsed.data, source.lineOf), file, lineOf: source.lineOf }, problems };
}

/** The package's own programme; tests see to it that it has no fault. */
export function shippedProgramme(root: string = packageRoot): Programme {
  const file = join('flows', 'programme.yaml');
  return readProgramme(file, readText(root, file)).programme ?? noProgramme;
}

function readLocale(root: string, tag: string, problems: Problem[], keep: <T>(read: Read<T>) => T | null): Locale {
  const folder = `locales/${tag}`;
  const meta = readIfThere(root, `${folder}/meta.json`, problems, (file, text) => keep(readOnce(file, text, readMeta)));
  const keywords = readIfThere(root, `${folder}/keywords.json`, problems, (file, text) =>
    keep(readOnce(file, text, readKeywords)),
  );
  const alarm = readIfThere(root, `${folder}/alarm.json`, problems, (file, text) =>
    keep(readOnce(file, text, readAlarm)),
  );
  const everyday = readIfThere(root, `${folder}/everyday.json`, problems, (file, text) =>
    keep(readOnce(file, text, readEveryday)),
  );
  const cautions = existsSync(join(root, `${folder}/cautions.json`))
    ? readIfThere(root, `${folder}/cautions.json`, problems, (file, text) => keep(readOnce(file, text, readCautions)))
    : null;
  const files = filesIn(root, folder, '.json')
    .filter(
      (name) =>
        ![
          'meta',
          'keywords',
          'quick',
          'alarm',
          'everyday',
          'cautions',
          'cards',
          'bench',
          'scenarios',
          fromEnglish,
        ].includes(name),
    )
    .flatMap((name) => {
      const file = `${folder}/${name}.json`;
      return keep(readOnce(file, readText(root, file), (of, text) => readLocaleFile(tag, name, of, text))) ?? [];
    });
  return { tag, folder, meta, keywords: keywords ?? {}, alarm, everyday, cautions, files };
}

function readIfThere<T>(
  root: string,
  file: string,
  problems: Problem[],
  read: (file: string, text: string) => T | null,
): T | null {
  if (existsSync(join(root, file))) return read(file, readText(root, file));
  problems.push({ file, line: 1, path: '-', what: 'the file is missing', todo: 'add it' });
  return null;
}

function readText(root: string, file: string): string {
  return readFileSync(join(root, file), 'utf8');
}

function filesIn(root: string, folder: string, ending: string): readonly string[] {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder))
    .filter((name) => name.endsWith(ending))
    .map((name) => name.slice(0, -ending.length))
    .sort();
}

function foldersIn(root: string, folder: string): readonly string[] {
  if (!existsSync(join(root, folder))) return [];
  return readdirSync(join(root, folder), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => entry.name)
    .sort();
}

/** Stands in while `programme.yaml` has problems; nothing starts on it. */
const noProgramme: Programme = {
  id: 'none',
  name: '',
  zone: 'UTC',
  languages: 'all',
  policy: 'common-practice',
  shown: [],
  privacy: 'by-hand',
  pictures: 'refused',
  asksPet: false,
  voiceNumber: '',
  hospital: '',
  night: '',
  inrHours: 0,
  daytime: { from: 7, to: 19 },
  digest: 7,
  sites: [],
  laboratories: [],
  urgencies: {},
  durations: {},
  limits: {},
};
