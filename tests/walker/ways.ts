/**
 * What is out of the ordinary in a batch, by its seed alone, so that every run of some length has all of it. Most patients
 * of such a batch are as all others; what is rare in life is so often in it that its ways are gone in a run.
 */
import type { Programme } from '../../src/conversation/programme.ts';

export const ways = [
  /** Doctors who take days, patients whom nobody finds. */
  'slow',
  /** A laboratory that stains dried slides, clinics without alcohol. */
  'dried',
  /** Many neck nodes. */
  'nodes',
  /** Lived on for more than a year: the days to look again come. */
  'long',
  /** The coordinators change who is on the line. */
  'office',
  /** Workers by a chat; names on the label. */
  'chat',
  /** Another governing policy, a rinse for calcitonin. */
  'policy',
  /** Patients who come to a colleague too. */
  'again',
  /** Doctors and coordinators are away for days. */
  'nobody',
  /** Alarms, and what stops a needle on the day. */
  'bedside',
  /** Needles that bring nothing, cysts. */
  'wet',
  /** Nothing at all. */
  'plain',
] as const;
export type Way = (typeof ways)[number];

export const wayOf = (seed: number): Way => ways[seed % ways.length]!;

/** The seeds of batches from this one on: all of them, or those of one way. */
export function* seedsFrom(first: number, way: Way | null): Generator<number, never> {
  for (let seed = first; ; seed += 1) if (way === null || wayOf(seed) === way) yield seed;
}

/** A clinic and a laboratory may share a phone, and a second person may sit at the laboratory's. */
export const sharesPhones = (seed: number): boolean => seed % 5 < 2;

/** The programme as this batch's people chose it. */
export function programmeOf(programme: Programme, seed: number): Programme {
  const way = wayOf(seed);
  const [first, ...others] = programme.laboratories;
  return {
    ...programme,
    asksPet: seed % 5 === 3,
    ...(way === 'dried' ? { laboratories: [{ ...first!, stain: 'dried' }, ...others] } : {}),
    ...(way === 'chat' ? { privacy: 'in-chat', pictures: 'to-doctor' } : {}),
    ...(way === 'policy'
      ? { laboratories: rinsing([first!, ...others]), policy: 'ata-2015', shown: ['acr-2017', 'eu-2017'] }
      : {}),
  };
}

/** Each laboratory tests the calcitonin in the rinse of a needle. */
const rinsing = (all: Programme['laboratories']): Programme['laboratories'] =>
  all.map((one) => ({ ...one, assays: ['thyroglobulin', 'calcitonin'] }));

/** How much of what the patients of a batch have; 1 where it is as in life. */
export interface Leaning {
  readonly node: number;
  /** Danger signs. */
  readonly danger: number;
  /** Trouble with swallowing alone. */
  readonly swallowing: number;
  /** Lumps too small for a needle. */
  readonly small: number;
  readonly second: number;
  readonly hindrance: number;
  readonly cyst: number;
  readonly sponge: number;
  /** Medullary cancer in the family. */
  readonly medullary: number;
  readonly warfarin: number;
  /** Chance that nobody has an INR. */
  readonly noInr: number;
  /** Chance that nobody knows an answer. */
  readonly unknown: number;
  /** Chance that a side or a size is first said wrongly, or a lump too many. */
  readonly mistaken: number;
  /** Chance that something has come to a patient until another day. */
  readonly since: number;
  /** No fixative at hand, or spray alone. */
  readonly bare: boolean;
}

export function leaningOf(way: Way): Leaning {
  return {
    node: way === 'nodes' ? 7 : way === 'slow' || way === 'bedside' ? 2.5 : 1,
    danger: way === 'nobody' ? 8 : way === 'bedside' ? 4 : 1,
    swallowing: way === 'wet' ? 8 : 1,
    small: way === 'long' ? 3 : 1,
    second: way === 'bedside' ? 2 : 1,
    hindrance: way === 'bedside' ? 4 : 1,
    cyst: way === 'wet' ? 10 : 1,
    medullary: way === 'policy' ? 15 : 1,
    sponge: way === 'policy' ? 12 : 1,
    warfarin: way === 'bedside' ? 3 : 1,
    noInr: way === 'bedside' ? 0.5 : 0.05,
    unknown: way === 'chat' ? 0.12 : 0.035,
    mistaken: way === 'bedside' ? 0.5 : way === 'office' ? 0.2 : 0.05,
    since: way === 'bedside' ? 0.5 : 0.15,
    bare: way === 'dried',
  };
}
