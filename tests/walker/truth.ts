/** What is really so of an invented patient, drawn before anybody asks, so that all answers fit together. */
import type { Chance } from '../simulation/chance.ts';
import { sinceThen } from './another-day.ts';
import { type Lump, lumpsOf } from './lump.ts';
import { mistakenOf } from './mistaken.ts';
import { type Leaning, leaningOf } from './ways.ts';

export interface Truth {
  readonly initials: string;
  /** Null: only an age is known. */
  readonly born: number | null;
  readonly age: number;
  readonly female: boolean;
  readonly pregnantWeeks: number | null;
  /** Danger signs, risks, medicines and bleeding that are so, by id. */
  readonly facts: ReadonlySet<string>;
  /** What has come to them until another day (`another-day.ts`). */
  readonly since: ReadonlySet<string>;
  readonly numbers: Readonly<Record<string, number>>;
  /** One answer of several, by field. */
  readonly choices: Readonly<Record<string, string>>;
  readonly lumps: readonly Lump[];
  /** The lumps as their worker says them at first; null: rightly (`mistaken.ts`). */
  readonly mistaken: readonly Lump[] | null;
  readonly node: { readonly side: 'right' | 'left'; readonly mm: readonly number[]; readonly level: string } | null;
  /** What stops a needle on the day, by id. */
  readonly hindrances: ReadonlySet<string>;
  readonly supplies: ReadonlySet<string>;
  readonly fluid: { readonly ml: number; readonly colour: number } | null;
  /** Needles bring blood or nothing. */
  readonly isDry: boolean;
  /** What nobody knows: `field`, or `item.field` of a lump. */
  readonly unknown: (key: string) => boolean;
  /** What the laboratory will write of the first, the second and further specimens. */
  readonly results: readonly string[];
}

/** Categories in equal shares, so that each is met often. */
export const categories = ['Thy1', 'Thy1c', 'Thy2', 'Thy2c', 'Thy3a', 'Thy3f', 'Thy4', 'Thy5'] as const;

const letters = 'ABCDEFGHIJKLMNOPRSTUVWZ';

/** A patient who comes in this year; `leaning`: what the patients of the batch have more than others. */
export function truthOf(chance: Chance, year: number, leaning: Leaning = leaningOf('plain')): Truth {
  const age = ageOf(chance);
  const female = chance.happens(0.75);
  const pregnant = female && age >= 16 && age <= 46 && chance.happens(0.24);
  const lumps = lumpsOf(chance, leaning);
  const node = chance.happens(0.08 * leaning.node)
    ? {
        side: chance.pick(['right', 'left'] as const),
        mm: [8 + chance.below(22), 6 + chance.below(5)].sort((a, b) => b - a),
        level: chance.pick(['i', 'ii', 'iii', 'iv', 'v', 'vi', 'low', 'low']),
      }
    : null;
  const facts = factsOf(chance, node !== null, leaning);
  // Each key is drawn once and answered alike ever after.
  const drawn = new Map<string, boolean>();
  const unknown = (key: string): boolean => {
    const known = drawn.get(key) ?? chance.happens(key === 'inr' ? leaning.noInr : leaning.unknown);
    drawn.set(key, known);
    return known;
  };
  return {
    initials: `${letters[chance.below(letters.length)]}${letters[chance.below(letters.length)]}`,
    born: chance.happens(0.9) ? year - age : null,
    age,
    female,
    pregnantWeeks: pregnant ? 4 + chance.below(36) : null,
    facts,
    since: sinceThen(chance, leaning.since),
    numbers: {
      inr: Number(chance.weighted({ '1.9': 4, '2.4': 6, '2.9': 3, '3.6': 3 })),
      platelets: Number(chance.weighted({ '180': 6, '90': 2, '35': 1, '15': 1 })),
      ivAntiplateletHours: Number(chance.weighted({ '4': 2, '30': 4, '0': 1 })),
      inrAgeHours: Number(chance.weighted({ '5': 3, '20': 4, '60': 3, '200': 3 })),
    },
    choices: {
      tsh: chance.weighted({ normal: 74, low: pregnant ? 50 : 9, high: 11, unknown: 6 }),
      scan: chance.weighted({ hot: 4, 'not-hot': 4, unknown: 3 }),
      'ultrasound.done': chance.weighted({
        linear: 62,
        'other-with-pad': 8,
        'other-without-pad': 6,
        'not-done-yet': 5,
        'no-ultrasound': 3,
      }),
    },
    lumps,
    mistaken: mistakenOf(chance, lumps, leaning.mistaken),
    node,
    hindrances: hindrancesOf(chance, leaning.hindrance),
    supplies: suppliesOf(chance, leaning.bare),
    fluid: chance.happens(leaning.cyst > 1 ? 0.9 : 0.5)
      ? { ml: 1 + chance.below(20), colour: 1 + chance.below(5) }
      : null,
    isDry: chance.happens(leaning.cyst > 1 ? 0.45 : 0.03),
    unknown,
    results: [0, 1, 2, 3].map(() => chance.pick(categories)),
  };
}

/** In years that begin with the calendar's: whoever turns eighteen may still be seventeen, so both are met often. */
function ageOf(chance: Chance): number {
  switch (chance.weighted({ child: 3, seventeen: 2, eighteen: 2, adult: 93 })) {
    case 'child':
      return 5 + chance.below(12);
    case 'seventeen':
      return 17;
    case 'eighteen':
      return 18;
    case 'adult':
      return 19 + chance.below(60);
  }
}

/** True when the fact is so, also under the wider names that some questions use. */
export function isSo(truth: Truth, id: string): boolean {
  const { facts } = truth;
  switch (id) {
    case 'hard-or-fixed':
      return facts.has('hard') || facts.has('fixed');
    case 'other-thinner':
      return ['antiplatelet', 'oral-anticoagulant', 'heparin', 'iv-antiplatelet'].some((one) => facts.has(one));
    default:
      return facts.has(id) || truth.hindrances.has(id);
  }
}

function factsOf(
  chance: Chance,
  node: boolean,
  { danger, swallowing, medullary, warfarin }: Leaning,
): ReadonlySet<string> {
  const facts = new Set<string>();
  const may: readonly (readonly [string, number])[] = [
    ['stridor', 0.012 * danger],
    ['breathless', 0.012 * danger],
    ['voice-change', 0.025 * danger],
    ['swallowing', 0.03 * danger * swallowing],
    ['rapid-growth', 0.02],
    ['hard', 0.025],
    ['fixed', 0.015],
    ['pulsates', 0.02],
    ['family-medullary', 0.02 * medullary],
    ['family-thyroid-cancer', 0.05],
    ['neck-irradiation', 0.04],
    ['pet-focus', 0.01],
    ['warfarin', 0.11 * warfarin],
    ['antiplatelet', 0.07],
    ['oral-anticoagulant', 0.03],
    ['heparin', 0.03],
    ['iv-antiplatelet', 0.02],
    ['bleeding-disorder', 0.02],
    ['overactiveSigns', 0.15],
  ];
  for (const [id, often] of may) if (chance.happens(often)) facts.add(id);
  if (node) facts.add('neck-nodes');
  return facts;
}

function hindrancesOf(chance: Chance, often: number): ReadonlySet<string> {
  const found = new Set<string>();
  for (const id of ['sore-skin', 'high-pressure', 'not-still', 'breathless-lying'])
    if (chance.happens(0.03 * often)) found.add(id);
  return found;
}

function suppliesOf(chance: Chance, bare: boolean): ReadonlySet<string> {
  const has = new Set(['syringe', 'fine-needles', 'slides-many']);
  if (chance.happens(0.5)) has.add('holder');
  const fixative = chance.weighted({ 'alcohol-lidded': bare ? 2 : 15, spray: 5, none: bare ? 4 : 0 });
  if (fixative !== 'none') has.add(fixative);
  if (chance.happens(0.5)) has.add('helper');
  if (chance.happens(0.1)) has.add('improvised-holder');
  if (chance.happens(0.06)) has.add('weak-alcohol');
  if (chance.happens(0.08)) {
    has.delete('slides-many');
    has.add('slides-few');
  }
  if (chance.happens(0.06)) {
    has.delete('fine-needles');
    has.add('needle-22');
  }
  return has;
}
