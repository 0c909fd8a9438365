/** One invented lump: what a machine and a hand would find in it, whoever asks. */
import type { Chance } from '../simulation/chance.ts';

export type Side = 'right' | 'left' | 'isthmus';

export interface Lump {
  readonly side: Side;
  /** Three diameters in mm, largest first. */
  readonly mm: readonly [number, number, number];
  readonly place: 'upper' | 'lower';
  readonly felt: boolean;
  readonly composition: string;
  /** Ids of what is seen: darkness, shape, edge, capsule, bright spots. */
  readonly looks: ReadonlySet<string>;
  /** Answers to yes or no questions about the lump, by field. */
  readonly truths: Readonly<Record<string, boolean>>;
  readonly solidPartMm: number;
}

/** How much more often than usual a lump is one of these, and another one is beside it. */
export interface Inside {
  readonly cyst: number;
  readonly sponge: number;
  readonly small: number;
  readonly second: number;
}

const asInLife: Inside = { cyst: 1, sponge: 1, small: 1, second: 1 };

/** A lump of this side; a big one is mostly felt. */
export function lumpOf(chance: Chance, side: Side, place: Lump['place'], feltMostly: boolean, inside = asInLife): Lump {
  const longest = chance.weighted({
    ...{ '10': 2 * inside.small, '15': 7, '20': 15, '30': 12, '45': 6, '60': 2 },
    '8': 1 * inside.small,
  });
  const length = Math.max(6, Number(longest) - chance.below(5));
  const width = Math.max(5, length - chance.below(Math.ceil(length / 3)));
  const depth = Math.max(5, width - chance.below(Math.ceil(width / 3)));
  const composition = chance.weighted({
    solid: 64,
    mixed: 22,
    cystic: 5 * inside.cyst,
    spongiform: 5 * inside.sponge,
    obscured: 4,
  });
  const looks = new Set<string>();
  // A sponge mostly has nothing else about it.
  // A cyst that is said to have what no cyst has is asked about once more.
  const isPlain =
    (composition === 'cystic' && chance.happens(0.75)) || (composition === 'spongiform' && chance.happens(0.6));
  if (!isPlain) {
    looks.add(chance.weighted({ hypoechoic: 5, 'very-hypoechoic': 2, iso: 4 }));
    const may: readonly (readonly [string, number])[] = [
      ['taller-than-wide', 0.15],
      ['irregular', 0.2],
      ['invaded', 0.06],
      ['punctate', 0.2],
      ['macrocalcification', 0.12],
      ['rim-calcification', 0.08],
    ];
    for (const [id, often] of may) if (chance.happens(often)) looks.add(id);
    looks.delete('iso');
  }
  return {
    side,
    mm: [length, width, depth],
    place,
    felt: length >= 8 && chance.happens(feltMostly ? 0.93 : 0.4),
    composition,
    looks,
    truths: {
      spongiformWhole: chance.happens(0.5),
      eccentric: chance.happens(0.4),
      rimExtrusion: chance.happens(0.3),
    },
    solidPartMm: Math.max(4, Math.floor(length * 0.6)),
  };
}

/** All lumps of a neck, largest first, as they are sent; two of one side are upper and lower. */
export function lumpsOf(chance: Chance, inside = asInLife): readonly Lump[] {
  const count = Number(chance.weighted({ '1': 63, '2': 26 * inside.second, '3': 7, '0': 2 }));
  const lumps: Lump[] = [];
  for (let n = 0; n < count; n += 1) {
    const side = chance.weighted({ right: 45, left: 45, isthmus: 10 });
    const same = lumps.find((one) => one.side === side);
    lumps.push(lumpOf(chance, side, same?.place === 'upper' ? 'lower' : 'upper', n === 0, inside));
  }
  return lumps.sort((a, b) => b.mm[0] - a.mm[0]);
}
