import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runInThisContext } from 'node:vm';
import { build } from 'esbuild';
import { describe, expect, it } from 'vitest';
import { saidNumbers } from '../../src/clinical/said-numbers.ts';
import type { TextKey } from '../../src/generated/text-keys.ts';
import { shipped } from '../support/shipped.ts';

/*
 * A clinician who edits a number of the clinical code changes what people are told: each figure that texts take from the
 * code is changed in turn, in a copy, and a message has to change with it.
 */
const folder = join(dirname(fileURLToPath(import.meta.url)), '../../src/clinical');
const entry = join(folder, 'said-numbers.ts');

/** Figures beside the told ones that decide and are not told, each with the test that holds it. */
const decidesOnly: Readonly<Record<string, string>> = {
  'partingMm.below': 'tests/clinical/indication.test.ts',
  'partingMm.above': 'tests/clinical/indication.test.ts',
  'diameterGrowth.diameters': 'tests/published/volume-and-growth.test.ts',
  'AT_HAND.notedNeedles': 'tests/clinical/supplies.test.ts',
  'AT_HAND.fewSlides': 'tests/clinical/supplies.test.ts',
};

interface Figure {
  readonly name: string;
  readonly file: string;
  readonly changed: string;
}

/** Each figure of each constant that `said-numbers.ts` imports, with its file as it would be one more. */
function figures(): readonly Figure[] {
  const imports = [...readFileSync(entry, 'utf8').matchAll(/import \{ ([^}]+) \} from '\.\/([\w-]+\.ts)';/g)];
  return imports.flatMap(([, names, file]) =>
    names!.split(', ').flatMap((name) => figuresOf(name, join(folder, file!))),
  );
}

function figuresOf(constant: string, file: string): readonly Figure[] {
  const source = readFileSync(file, 'utf8');
  const from = source.indexOf(`export const ${constant} = `);
  expect(from, constant).toBeGreaterThanOrEqual(0);
  const body = source.slice(from, source.indexOf(';', from));
  return [...body.matchAll(/(?:(\w+): |= )(\d+(?:\.\d+)?)/g)].map((found) => {
    const place = from + found.index + found[0].length - found[2]!.length;
    const changed = `${source.slice(0, place)}${Number(found[2]) + 1}${source.slice(place + found[2]!.length)}`;
    return { name: found[1] === undefined ? constant : `${constant}.${found[1]}`, file, changed };
  });
}

/** What texts would be told if a file were another. */
async function saidWith(file: string, source: string): Promise<Readonly<Record<string, string>>> {
  const changed = {
    name: 'changed',
    setup: (made: import('esbuild').PluginBuild) =>
      made.onLoad({ filter: /\.ts$/ }, ({ path }) => (path === file ? { contents: source, loader: 'ts' } : null)),
  };
  const { outputFiles } = await build({
    entryPoints: [entry],
    bundle: true,
    write: false,
    format: 'cjs',
    platform: 'node',
    packages: 'external',
    plugins: [changed],
  });
  const made: { exports: { readonly saidNumbers?: typeof saidNumbers } } = { exports: {} };
  runInThisContext(`(module, require) => {${outputFiles[0]!.text}}`)(made, createRequire(import.meta.url));
  return made.exports.saidNumbers!;
}

/** Every English text and label, by place, with its placeholders. */
const english: readonly (readonly [string, string])[] = shipped.sources.locales
  .filter(({ tag }) => tag === 'en')
  .flatMap(({ files }) =>
    files.flatMap((file) => [
      ...[...file.texts].map(([key, text]) => [`${file.name}.${key}`, text] as const),
      ...Object.entries(file.options).flatMap(([field, ids]) =>
        Object.entries(ids).map(([id, words]) => [`${file.name}.options.${field}.${id}`, words.join('|')] as const),
      ),
    ]),
  );

const all = figures();

describe('the clinical numbers that people are told', () => {
  it('are many', () => {
    expect(all.length).toBeGreaterThan(40);
  });

  it.each(all.map((one) => [one.name, one] as const))('%s: who edits it changes a message', async (name, figure) => {
    const now = await saidWith(figure.file, figure.changed);
    const other = Object.keys(saidNumbers).filter((one) => now[one] !== saidNumbers[one]);
    if (name in decidesOnly) {
      expect(existsSync(join(folder, '../..', decidesOnly[name]!))).toBe(true);
      expect(other).toEqual([]);
      return;
    }
    const messages = english.filter(([, text]) => other.some((one) => text.includes(`{${one}}`)));
    expect(messages).not.toEqual([]);
  });

  it.each(Object.keys(saidNumbers))('%s stands in a text', (name) => {
    expect(english.filter(([, text]) => text.includes(`{${name}}`))).not.toEqual([]);
  });

  it.each(Object.keys(saidNumbers))('%s is shown, wherever its text is said from', (name) => {
    const [place] = english.find(([at, text]) => !at.includes('.options.') && text.includes(`{${name}}`)) ?? [];
    expect(shipped.texts.render('en', place as TextKey, () => '')).toContain(saidNumbers[name]);
  });

  it('a label shows them as well', () => {
    expect(shipped.texts.label('en', 'supplies', 'needle-22')).toBe(`only ${saidNumbers.needleNoted}G needles`);
  });
});

/** Texts whose figures are examples of what may be sent, the age group of the laboratory's list, or the length of a text: nothing clinical. */
const examples = [
  'common.expected-needs-unit',
  'laboratory.decade-child',
  'new.drip-hours',
  'new.solid-part',
  'common.expected-not-a-fluid',
  'sampling.fluid',
  'stock.nothing',
  'stock.nothing-anywhere',
  'stock.how',
  'glossary.segment',
];

describe('no text has a clinical figure of its own', () => {
  const unit = String.raw`\d[\d.,-]*\s?(?:ml|s|min|h|G|mm|cm|MHz|days?|weeks?|months?|years?)\b`;
  const limit = String.raw`\b(?:over|under|above|more than|at least|at most|within|every) \d`;
  const figure = new RegExp(`${unit}|${limit}|\\d\\s?%(?! alcohol)`, 'g');

  it('but the strength of alcohol, which is its name, and examples', () => {
    const own = english.filter(([, text]) => (text.replace(/\b70%|alcohol 95%/gi, '').match(figure) ?? []).length > 0);
    expect(own.map(([place]) => place).filter((place) => !examples.includes(place))).toEqual([]);
  });
});
