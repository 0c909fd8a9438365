import {
  type Axis,
  axes,
  type Completions,
  completionsOf,
  gradeTable,
  lookPlace,
  policyOf,
  possibleGrades,
  possibleOutcomes,
  sizesToTry,
} from './completions.ts';
import type { NoduleField } from './findings.ts';
import { type KnownNodule, nodulesLook } from './known.ts';
import { type Outcome, outcomes, type PolicyId } from './policies/policy.ts';
import { nodulesKept, rememberedBy } from './remembered.ts';

/*
 * Which unanswered question about a nodule could still change what a policy says, and which of them to ask first: the
 * one after whose worst answer the fewest outcomes are left; among equals the one most reliable on a weak machine.
 * Our convention.
 */
const mostReliableFirst: readonly NoduleField[] = [
  'composition',
  'mm',
  'echogenicity',
  'foci',
  'margin',
  'shape',
  'capsule',
  'solidPartMm',
  'eccentric',
  'spongiformWhole',
  'hypoechoicPart',
];

/** How closely outcomes are told apart: `every-outcome`, or only whether a needle is due (`needle`). */
export type Closeness = 'every-outcome' | 'needle';

/** An unanswered question on one axis: the looks that each of its answers would leave, and those it does not touch. */
interface Question {
  readonly field: NoduleField;
  readonly axis: Axis;
  readonly answers: readonly (readonly number[])[];
  readonly untouched: readonly number[];
}

/**
 * The fields of the nodule that could still change the outcome of the policy, best first. Empty when the outcome is
 * settled, or when nothing that is unknown bears on it.
 */
export function settlingFields(
  id: PolicyId,
  nodule: KnownNodule,
  closeness: Closeness = 'every-outcome',
): readonly NoduleField[] {
  return fieldsThatSettle(nodule, id, closeness);
}

const fieldsThatSettle = rememberedBy(
  nodulesKept,
  (nodule: KnownNodule, id: PolicyId, closeness: Closeness) => `${id} ${closeness} ${nodulesLook(nodule)}`,
  settle,
);

function settle(nodule: KnownNodule, id: PolicyId, closeness: Closeness): readonly NoduleField[] {
  const looks = completionsOf(nodule);
  const sizes = sizesToTry(id, nodule.size);
  const kinds = kindsOfGrade(id, sizes, nodule.solidPartMm, closeness);
  const worst = new Map<NoduleField, number>();
  const left = (narrowed: Completions, mms = sizes, solidPartMm = nodule.solidPartMm) =>
    countApart(possibleOutcomes(id, possibleGrades(id, narrowed), mms, solidPartMm), closeness);

  for (const question of questionsAbout(nodule, looks)) {
    if (!matters(question, looks, gradeTable(id), kinds)) continue;
    const counts = question.answers.map((answer) =>
      left({ ...looks, [question.axis]: [...question.untouched, ...answer] }),
    );
    worst.set(question.field, Math.max(...counts));
  }
  if (sizes.length > 1 && sizeMatters(id, looks, sizes, nodule.solidPartMm, closeness)) {
    worst.set('mm', Math.max(...sizes.map((mm) => left(looks, [mm]))));
  }
  if (solidPartMatters(id, nodule, looks)) {
    worst.set('solidPartMm', Math.max(...solidPartsToTry.map((mm) => left(looks, sizes, mm))));
  }
  return mostReliableFirst
    .filter((field) => worst.has(field))
    .sort((a, b) => (worst.get(a) ?? 0) - (worst.get(b) ?? 0));
}

const solidPartsToTry = [10, 15, 16];

function solidPartMatters(id: PolicyId, nodule: KnownNodule, looks: Completions): boolean {
  if (id !== 'common-practice' || nodule.solidPartMm !== null) return false;
  return looks.interior.some((place) => axes.interior[place]?.composition === 'mixed');
}

function questionsAbout(nodule: KnownNodule, looks: Completions): readonly Question[] {
  const questions: Question[] = [];
  const add = (field: NoduleField, axis: Axis, answers: readonly (readonly number[])[], untouched: number[] = []) => {
    const possible = answers.filter((answer) => answer.length > 0);
    if (possible.length > 1) questions.push({ field, axis, answers: possible, untouched });
  };
  const { interior, echo, shape, edge, foci } = looks;
  const inside = (test: (look: (typeof axes.interior)[number]) => boolean) =>
    interior.filter((place) => test(axes.interior[place] as (typeof axes.interior)[number]));
  const dark = (test: (look: (typeof axes.echo)[number]) => boolean) =>
    echo.filter((place) => test(axes.echo[place] as (typeof axes.echo)[number]));

  if (nodule.composition === null) {
    const all = ['cystic', 'spongiform', 'mixed', 'solid'];
    add(
      'composition',
      'interior',
      all.map((one) => inside((look) => look.composition === one)),
    );
  }
  if (nodule.spongiformWhole === null) {
    const halves = [true, false].map((yes) =>
      inside((look) => look.composition === 'spongiform' && look.spongiformWhole === yes),
    );
    add(
      'spongiformWhole',
      'interior',
      halves,
      inside((look) => look.composition !== 'spongiform'),
    );
  }
  if (nodule.eccentric === null) {
    const halves = [true, false].map((yes) => inside((look) => look.composition === 'mixed' && look.eccentric === yes));
    add(
      'eccentric',
      'interior',
      halves,
      inside((look) => look.composition !== 'mixed'),
    );
  }
  if (nodule.echogenicity === null) {
    const all = ['isoechoic', 'hypoechoic', 'very-hypoechoic'];
    add(
      'echogenicity',
      'echo',
      all.map((one) => dark((look) => look.echogenicity === one)),
    );
  }
  if (nodule.hypoechoicPart === null) {
    const bright = (look: (typeof axes.echo)[number]) =>
      look.echogenicity === 'isoechoic' || look.echogenicity === 'anechoic';
    const halves = [true, false].map((yes) => dark((look) => bright(look) && look.hypoechoicPart === yes));
    add(
      'hypoechoicPart',
      'echo',
      halves,
      dark((look) => !bright(look)),
    );
  }
  add(
    'shape',
    'shape',
    shape.map((place) => [place]),
  );
  if (nodule.margin === null) {
    add(
      'margin',
      'edge',
      edge.map((place) => [place]),
    );
    add('capsule', 'edge', [
      edge.filter((place) => axes.edge[place] !== 'extension'),
      edge.filter((place) => axes.edge[place] === 'extension'),
    ]);
  }
  add(
    'foci',
    'foci',
    foci.map((place) => [place]),
  );
  return questions;
}

/** Whether some nodule that fits what is known changes its outcome by this answer alone. */
function matters(question: Question, looks: Completions, table: Uint8Array, kinds: readonly number[]): boolean {
  const touched = question.answers.flat();
  const fixed = { ...looks, [question.axis]: [0] };
  const step = steps[question.axis];
  for (const interior of fixed.interior)
    for (const echo of fixed.echo)
      for (const shape of fixed.shape)
        for (const edge of fixed.edge)
          for (const foci of fixed.foci) {
            const start = lookPlace(interior, echo, shape, edge, foci);
            const first = kinds[table[start + (touched[0] as number) * step] as number];
            for (const place of touched) if (kinds[table[start + place * step] as number] !== first) return true;
          }
  return false;
}

const steps: { readonly [A in Axis]: number } = {
  interior: lookPlace(1, 0, 0, 0, 0),
  echo: lookPlace(0, 1, 0, 0, 0),
  shape: lookPlace(0, 0, 1, 0, 0),
  edge: lookPlace(0, 0, 0, 1, 0),
  foci: lookPlace(0, 0, 0, 0, 1),
};

/** For each grade a number; two grades share it when they have the same outcome at every size to try. */
function kindsOfGrade(
  id: PolicyId,
  sizes: readonly number[],
  solidPartMm: number | null,
  closeness: Closeness,
): readonly number[] {
  const { grades, outcome } = policyOf(id);
  return grades.map((grade) =>
    sizes.reduce((kind, mm) => kind * outcomes.length + rank(outcome(grade, { mm, solidPartMm }), closeness), 0),
  );
}

function sizeMatters(
  id: PolicyId,
  looks: Completions,
  sizes: readonly number[],
  solidPartMm: number | null,
  closeness: Closeness,
): boolean {
  const { grades, outcome } = policyOf(id);
  const bits = possibleGrades(id, looks);
  return grades.some(
    (grade, place) =>
      (bits & (1 << place)) !== 0 &&
      new Set(sizes.map((mm) => rank(outcome(grade, { mm, solidPartMm }), closeness))).size > 1,
  );
}

function rank(outcome: Outcome, closeness: Closeness): number {
  return closeness === 'needle' && outcome === 'no-sampling'
    ? outcomes.indexOf('follow-up')
    : outcomes.indexOf(outcome);
}

function countApart(open: readonly Outcome[], closeness: Closeness): number {
  return new Set(open.map((outcome) => rank(outcome, closeness))).size;
}
