import { readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('../src/', import.meta.url));

function filesUnder(folder: string): string[] {
  return readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    if (statSync(path).isDirectory()) return filesUnder(path);
    return path.endsWith('.ts') ? [path] : [];
  });
}

const files = filesUnder(root).map((path) => ({ path: relative(root, path), source: readFileSync(path, 'utf8') }));
const pure = ['clinical', 'case', 'conversation', 'text', 'drawings', 'cards', 'setup', 'training', 'review'];

/** Layers that a layer may import, besides itself. `text` reads and counts words and knows nothing above it. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  text: [],
  clinical: [],
  generated: ['case'],
  case: ['clinical', 'text', 'generated'],
  conversation: ['case', 'clinical', 'text', 'generated'],
  line: ['generated', 'case', 'clinical', 'conversation', 'text'],
  store: ['line', 'generated', 'case', 'clinical', 'conversation', 'text'],
  channels: ['line', 'training', 'drawings', 'generated', 'case', 'clinical', 'conversation', 'text'],
  observe: ['line'],
  training: ['conversation', 'clinical', 'text'],
  drawings: ['clinical', 'text'],
  cards: ['drawings', 'conversation', 'generated', 'text', 'case', 'clinical'],
  content: ['cards', 'training', 'conversation', 'generated', 'text', 'case', 'clinical'],
  review: ['content', 'drawings', 'conversation', 'generated', 'text', 'case', 'clinical'],
  setup: ['content', 'conversation', 'generated', 'case', 'clinical', 'text'],
  report: ['line', 'case', 'clinical', 'conversation', 'text'],
};

function importsOf(source: string): string[] {
  return [...source.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map((found) => found[1]!);
}

function layerOf(path: string): string {
  return path.includes('/') ? path.split('/')[0]! : 'root';
}

describe('architecture', () => {
  it('dependencies point inward', () => {
    const wrong: string[] = [];
    for (const { path, source } of files) {
      const layer = layerOf(path);
      const may = allowed[layer];
      if (!may) continue;
      for (const target of importsOf(source).filter((one) => one.startsWith('.'))) {
        const to = layerOf(relative(root, join(root, dirname(path), target)));
        if (to !== layer && !may.includes(to)) wrong.push(`${path} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('the outer layers see the line through its ports only', () => {
    const wrong: string[] = [];
    for (const { path, source } of files) {
      if (!['store', 'observe'].includes(layerOf(path))) continue;
      for (const target of importsOf(source)) {
        if (/\/line\//.test(target) && !/\/line\/(?:ports|way)\.ts$/.test(target))
          wrong.push(`${path} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it('one channel knows nothing of another', () => {
    const wrong: string[] = [];
    for (const { path, source } of files) {
      if (layerOf(path) !== 'channels') continue;
      const own = path.split('/')[1]!;
      for (const target of importsOf(source).filter((one) => one.startsWith('.'))) {
        const to = relative(root, join(root, dirname(path), target)).split('/');
        // A file beside the channels belongs to all of them, and so to none.
        const shared = to.length === 2 && own !== to[1];
        if (to[0] === 'channels' && to[1] !== own && !shared) wrong.push(`${path} imports ${target}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  it.each([
    ['a clock', /\bDate\b(?!Time)|performance\.now|process\./],
    ['chance', /Math\.random|randomBytes|getRandomValues/],
    ['timers', /setTimeout|setInterval|setImmediate/],
    ['files, network or other I/O', /from 'node:|fetch\(|console\./],
    ['waiting', /\basync\b|\bawait\b|\bPromise\b/],
  ])('the pure layers use no %s', (_what, forbidden) => {
    const wrong = files
      .filter(({ path }) => pure.includes(layerOf(path)))
      .flatMap(({ path, source }) =>
        code(source)
          .split('\n')
          .map((line, index) => ({ line, at: `${path}:${index + 1}` }))
          .filter(({ line }) => forbidden.test(line))
          .map(({ at, line }) => `${at} ${line.trim()}`),
      );
    expect(wrong).toEqual([]);
  });

  it('timers stand in the runner and in the channels only', () => {
    const wrong = files
      // A command may wait for readers of the database.
      .filter(({ path }) => layerOf(path) !== 'channels' && path !== 'line/runner.ts' && path !== 'cli/scrub.ts')
      .filter(({ source }) => /setTimeout\(|setInterval\(/.test(code(source)))
      .map(({ path }) => path);
    expect(wrong).toEqual([]);
  });

  it('only the settings read the environment', () => {
    const wrong = files
      .filter(({ path, source }) => path !== 'config.ts' && /process\.env/.test(code(source)))
      .map(({ path }) => path);
    expect(wrong).toEqual([]);
  });

  it('zod checks at the doors and in no message path', () => {
    const may =
      /^(clinical\/findings|content\/.*|setup\/.*|cli\/setup-draft|channels\/sms\/mapping-file|config|store\/migrations\/.*|cli\/roster|review\/changes-file|store\/verify)\.ts$/;
    const wrong = files.filter(({ path, source }) => importsOf(source).includes('zod') && !may.test(path));
    expect(wrong.map(({ path }) => path)).toEqual([]);
  });

  it('no file grows past 450 lines', () => {
    const long = files
      .filter(({ path, source }) => layerOf(path) !== 'generated' && source.split('\n').length > 450)
      .map(({ path }) => path);
    expect(long).toEqual([]);
  });
});

/** The source without comments and texts, which may speak of clocks. */
function code(source: string): string {
  return source
    .replace(/\/\*[\s\S]*?\*\//g, (all) => all.replace(/[^\n]/g, ' '))
    .replace(/\/\/[^\n]*/g, '')
    .replace(/'(?:[^'\\\n]|\\.)*'/g, (all) => (all.startsWith("'node:") ? all : "''"));
}
