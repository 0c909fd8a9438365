/** Three diameters in mm, paired by plane: length, width, depth. */
export type Diameters = readonly [number, number, number];

/** Nodules over this size, mm, are measured and told. Our convention: under it no policy here looks again. */
export const ASKED_OVER_MM = 5;

/** Volume of an ellipsoid in mL from three diameters in mm, unrounded: pi/6 x length x width x depth / 1000. Letter on
 * nodule volume, Thyroid 2022, doi 10.1089/thy.2022.0516. The factor 0.479 is for whole lobes and is not used here. */
export function volumeMl([length, width, depth]: Diameters): number {
  return ((Math.PI / 6) * length * width * depth) / 1000;
}

/** Whose wording of "grown": they part only where the volume has grown by exactly half. */
export type GrowthRule = 'ata' | 'acr';

/*
 * Growth since an earlier examination: at least two diameters each larger by 20 % and by 2 mm (Durante C, et al. JAMA
 * 2015;313:926), or the volume larger by more than 50 % (Haugen, Thyroid 2016;26:1) or by 50 % or more (Tessler, J Am
 * Coll Radiol 2017;14:587: "50 % or greater", check, two copies write "over").
 */
export const diameterGrowth = { percent: 20, mm: 2, diameters: 2 };
const volumeGrowthPercent = 50;

/**
 * Whether a nodule has grown. Diameters in mm, compared in whole tenths of a millimetre, so that binary fractions
 * cannot flip the answer; both examinations in the same order of planes.
 */
export function grew(old: Diameters, now: Diameters, rule: GrowthRule): boolean {
  return grewInDiameters(old, now) || grewInVolume(old, now, rule);
}

/** The first half of `grew`: two diameters or more, each by 20 % and by 2 mm. */
export function grewInDiameters(old: Diameters, now: Diameters): boolean {
  const grown = old.filter((before, plane) => {
    const was = tenths(before);
    const is = tenths(now[plane] ?? before);
    return 100 * is >= (100 + diameterGrowth.percent) * was && is - was >= diameterGrowth.mm * 10;
  });
  return grown.length >= diameterGrowth.diameters;
}

export type Growth = 'grown' | 'not-grown' | 'not-known';

/**
 * Growth between two examinations as they are told: three diameters of both, else `not-known`, which never counts as no
 * growth. Told without their planes, so paired biggest with biggest (our convention).
 */
export function growthBetween(old: readonly number[], now: readonly number[], rule: GrowthRule): Growth {
  const [before, after] = [threeDiameters(old), threeDiameters(now)];
  if (before === null || after === null) return 'not-known';
  return grew(before, after, rule) ? 'grown' : 'not-grown';
}

/** Three diameters, biggest first, or null where fewer were measured. */
function threeDiameters(mm: readonly number[]): Diameters | null {
  const [length, width, depth] = [...mm].sort((a, b) => b - a);
  return length === undefined || width === undefined || depth === undefined ? null : [length, width, depth];
}

function grewInVolume(old: Diameters, now: Diameters, rule: GrowthRule): boolean {
  const was = (100 + volumeGrowthPercent) * product(old);
  const is = 100 * product(now);
  return rule === 'ata' ? is > was : is >= was;
}

const tenths = (mm: number): number => Math.round(mm * 10);
const product = ([length, width, depth]: Diameters): number => tenths(length) * tenths(width) * tenths(depth);
