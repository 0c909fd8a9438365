import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Focus } from '../../src/clinical/findings.ts';
import { findingsChoices } from '../../src/clinical/findings.ts';
import { type Policy, type PolicyId, policyIds, type SeenNodule } from '../../src/clinical/policies/policy.ts';
import { runs } from '../support/runs.ts';
import { type Mutant, mutantsOf } from './mutants.ts';
import { secondReading } from './second-reading.ts';

/*
 * Every cut-off, point, comparison and word of the four policies is changed, one at a time, and the changed policy is
 * held against the second reading of the published tables. A change that nobody notices is a hole in the proof: the
 * few that cannot change any answer are named below, each with its reason.
 */
const seed = 20170617;
const folder = new URL('../../src/clinical/policies/', import.meta.url);
const read = (file: string): string => readFileSync(new URL(file, folder), 'utf8');

/** The compiler that the runner of our own scripts brings along. */
const here = createRequire(import.meta.url);
const { transformSync } = createRequire(here.resolve('tsx'))('esbuild') as {
  transformSync: (source: string, options: { loader: 'ts'; format: 'cjs' }) => { code: string };
};
const compile = (source: string): string => transformSync(source, { loader: 'ts', format: 'cjs' }).code;

type Exports = Readonly<Record<string, unknown>>;
function run(code: string, modules: Readonly<Record<string, Exports>>): Exports {
  const module = { exports: {} };
  new Function('require', 'module', 'exports', code)((name: string) => modules[name], module, module.exports);
  return module.exports;
}

const assertNever = run(compile(readFileSync(new URL('../assert-never.ts', folder), 'utf8')), {});
const policyCode = compile(read('policy.ts'));

/** A policy from its compiled source, with the words that all policies share from theirs. */
function policyFrom(code: string, shared = policyCode): Policy {
  const modules = { '../assert-never.ts': assertNever, './policy.ts': run(shared, {}) };
  const policy = Object.values(run(code, modules)).find((one) => typeof one === 'object');
  return policy as Policy;
}

const sizesMm = [4.9, 5, 5.1, 9.9, 10, 10.1, 14.9, 15, 15.1, 19.9, 20, 20.1, 24.9, 25, 25.1, 40] as const;
const partsMm = [null, 9.9, 10, 10.1, 14.9, 15, 15.1] as const;

const seen = fc.record({
  composition: fc.constantFrom(...findingsChoices.composition),
  spongiformWhole: fc.boolean(),
  eccentric: fc.boolean(),
  echogenicity: fc.constantFrom(...findingsChoices.echogenicity),
  hypoechoicPart: fc.boolean(),
  shape: fc.constantFrom(...findingsChoices.shape),
  edge: fc.constantFrom(...findingsChoices.margin, 'extension' as const),
  foci: fc.oneof(
    fc.constant<Focus[]>([]),
    fc.constantFrom(...findingsChoices.foci).map((one): Focus[] => [one]),
    fc.subarray([...findingsChoices.foci]),
  ),
});

/** The most points there are, which random looks seldom reach. */
const worst: SeenNodule = {
  composition: 'solid',
  spongiformWhole: false,
  eccentric: false,
  echogenicity: 'very-hypoechoic',
  hypoechoicPart: false,
  shape: 'taller-than-wide',
  edge: 'extension',
  foci: ['macrocalcification', 'rim-calcification', 'punctate'],
};

interface Vector {
  readonly look: SeenNodule;
  readonly mm: number;
  readonly solidPartMm: number | null;
  readonly wanted: ReturnType<typeof secondReading>;
}

/** Each look at every size beside a cut-off; a mixed one with every size of its solid part. */
const vectors: readonly Vector[] = [worst, ...fc.sample(seen, { numRuns: runs(800, 5_000), seed })].flatMap((look) =>
  (look.composition === 'mixed' ? partsMm : [null]).flatMap((solidPartMm) =>
    sizesMm.map((mm) => {
      const { edge, ...told } = look;
      const margin = edge === 'extension' ? { capsule: 'invaded' } : { margin: edge, capsule: 'intact' };
      const nodule = { ...told, foci: [...look.foci], ...margin, mm: [mm], solidPartMm: solidPartMm ?? undefined };
      return { look, mm, solidPartMm, wanted: secondReading(nodule) };
    }),
  ),
);

/** Whole sizes in mm at which the second reading changes its word about some look. */
function cutOffsMm(id: PolicyId): readonly number[] {
  const found = new Set<number>();
  vectors.forEach(({ look, mm, wanted }, place) => {
    const next = vectors[place + 1];
    if (next?.look !== look || next.mm < mm) return;
    if (next.wanted[id].decisions[0] !== wanted[id].decisions[0]) found.add(Math.round(mm));
  });
  return [...found].sort((a, b) => a - b);
}
const cutOffs = new Map(policyIds.map((id) => [id, cutOffsMm(id)]));

/** The first thing that the second reading says differently; null when policy and reading agree on everything. */
function disagreement(id: PolicyId, code: string, shared?: string): string | null {
  try {
    const policy = policyFrom(code, shared);
    if (policy.id !== id) return `is called ${policy.id}`;
    if (String(policy.thresholdsMm) !== String(cutOffs.get(id))) return `other cut-offs: ${policy.thresholdsMm}`;
    const reached = new Set<string | number>();
    for (const { look, mm, solidPartMm, wanted } of vectors) {
      const grade = policy.grade(look);
      reached.add(grade);
      const level = policy.level(grade);
      const levels = level === null ? [] : [level];
      const outcome = policy.outcome(grade, { mm, solidPartMm });
      if (outcome !== wanted[id].decisions[0]) return `${outcome} at ${mm} mm: ${JSON.stringify(look)}`;
      if (String(levels) !== String(wanted[id].levels)) return `${levels}: ${JSON.stringify(look)}`;
      if (id === 'acr-2017' && grade !== wanted.points[0]) return `${grade} points: ${JSON.stringify(look)}`;
    }
    const listed = new Set(policy.grades);
    const same = listed.size === reached.size && policy.grades.every((grade) => reached.has(grade));
    return same ? null : 'other grades';
  } catch (error) {
    return `fails: ${String(error)}`;
  }
}

/** The changes of a file that make another program of it: a change of a mere type makes none. */
function mutantsOfFile(file: string): readonly (Mutant & { readonly code: string; readonly name: string })[] {
  const source = read(file);
  const sound = compile(source);
  const lines = source.split('\n');
  return mutantsOf(source)
    .map((one) => {
      const name = `${lines[one.line - 1]?.trim()} | ${one.was} -> ${one.becomes}`;
      return { ...one, code: compile(one.source), name };
    })
    .filter(({ code }) => code !== sound);
}

/** Changes after which the policy still answers as the table does, whatever the nodule: all of them in ACR. */
const harmless = [
  // A cystic or spongiform nodule earns no points before its row is read: these two stand for the reader of the table.
  ...['0 -> 1', '0 -> -1', '0 -> 1', '0 -> -1'].map(
    (change) => `composition: { cystic: 0, spongiform: 0, mixed: 1, solid: 2, obscured: 2 }, | ${change}`,
  ),
  // What reaches no row is given the first one all the same.
  ...['0 -> 1', '0 -> -1'].map(
    (change) => `{ level: 'TR1', fromPoints: 0, sampleFromMm: null, followFromMm: null }, | ${change}`,
  ),
  // Points are never fewer than none, so that every total reaches a row.
  ...['0 -> 1', '0 -> -1'].map((change) => `return found ?? levels[0]; | ${change}`),
];

describe('a wrong figure, sign or word in a policy', () => {
  it.each(policyIds)(`%s as it is agrees with the second reading (seed ${seed})`, (id) => {
    expect(disagreement(id, compile(read(`${id}.ts`)))).toBeNull();
  });

  it.each([
    ['common-practice', 60, []],
    ['acr-2017', 130, harmless],
    ['eu-2017', 70, []],
    ['ata-2015', 110, []],
  ] as const)('%s: each of the %d or more is noticed', (id, least, passed) => {
    const mutants = mutantsOfFile(`${id}.ts`);
    expect(mutants.length).toBeGreaterThanOrEqual(least);
    const missed = mutants.filter(({ code }) => disagreement(id, code) === null);
    expect(missed.map(({ name }) => name)).toEqual(passed);
  });

  it.each(policyIds)('in the edges that count as irregular each is noticed under %s', (id) => {
    const from = read('policy.ts')
      .split('\n')
      .findIndex((line) => line.includes('const isIrregular'));
    const mutants = mutantsOfFile('policy.ts').filter(({ line }) => line > from);
    expect(mutants.length).toBeGreaterThanOrEqual(8);
    const sound = compile(read(`${id}.ts`));
    const missed = mutants.filter(({ code }) => disagreement(id, sound, code) === null);
    // ACR gives a margin that is called irregular the points of irregular without asking.
    expect(missed.map(({ was }) => was)).toEqual(id === 'acr-2017' ? ["'irregular'"] : []);
  });
});
