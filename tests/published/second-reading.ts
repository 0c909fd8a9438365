/**
 * A second, independent reading of the published tables, written from them alone and sharing no code with the product.
 * It tries every completion of a nodule one by one, in the plainest way that works, and is only as fast as it has to be.
 * Sources: Tessler, J Am Coll Radiol 2017;14:587 (ACR); Russ, Eur Thyroid J 2017;6:225 (EU); Haugen, Thyroid
 * 2016;26:1, Table 6 (ATA); NCCN Guidelines for Patients, Thyroid cancer 1.2017, Guide 4 (mixed nodules).
 */
export interface ToldNodule {
  mm?: number[] | undefined;
  composition?: string | undefined;
  spongiformWhole?: boolean | undefined;
  solidPartMm?: number | undefined;
  eccentric?: boolean | undefined;
  echogenicity?: string | undefined;
  hypoechoicPart?: boolean | undefined;
  shape?: string | undefined;
  margin?: string | undefined;
  capsule?: string | undefined;
  foci?: string[] | undefined;
}

interface Whole {
  mm: number;
  inside: string;
  sponge: boolean;
  part: number | undefined;
  off: boolean;
  dark: string;
  darkPart: boolean;
  tall: boolean;
  edge: string;
  spots: string[];
}

type Answers = Record<
  'common-practice' | 'acr-2017' | 'eu-2017' | 'ata-2015',
  { decisions: string[]; levels: string[] }
> & {
  points: [number, number];
};

const jagged = ['lobulated', 'irregular', 'spiculated'];

function wholes(told: ToldNodule): Whole[] {
  const spots = told.foci ?? ['unknown'];
  const knownWorry =
    told.shape === 'taller-than-wide' ||
    told.capsule === 'invaded' ||
    jagged.includes(told.margin ?? '') ||
    spots.includes('punctate') ||
    spots.includes('rim-extrusion');
  const insides = told.composition
    ? [told.composition]
    : knownWorry
      ? ['mixed', 'solid']
      : ['cystic', 'spongiform', 'mixed', 'solid'];
  const both = (value: boolean | undefined) => (value === undefined ? [true, false] : [value]);
  let edges: string[];
  if (told.capsule === 'invaded') edges = ['out'];
  else if (told.margin) edges = [told.margin];
  else edges = ['smooth', 'ill-defined', ...jagged, ...(told.capsule === undefined ? ['out'] : [])];
  const spotSets: string[][] = [];
  if (!spots.includes('unknown')) spotSets.push(spots);
  else {
    for (const coarse of [[], ['macrocalcification']])
      for (const rim of [[], ['rim-calcification'], ['rim-calcification', 'rim-extrusion']])
        for (const tiny of [[], ['punctate']]) spotSets.push([...spots, ...coarse, ...rim, ...tiny]);
  }
  const out: Whole[] = [];
  for (const inside of insides)
    for (const sponge of both(told.spongiformWhole))
      for (const off of both(told.eccentric))
        for (const dark of told.echogenicity
          ? [told.echogenicity]
          : ['hyperechoic', 'isoechoic', 'hypoechoic', 'very-hypoechoic'])
          for (const darkPart of both(told.hypoechoicPart))
            for (const tall of told.shape ? [told.shape === 'taller-than-wide'] : [true, false])
              for (const edge of edges)
                for (const set of spotSets)
                  out.push({
                    mm: Math.max(...(told.mm ?? [Number.NaN])),
                    inside,
                    sponge,
                    part: told.solidPartMm,
                    off,
                    dark,
                    darkPart,
                    tall,
                    edge,
                    spots: set,
                  });
  return out;
}

function acrPoints(w: Whole): number {
  if (w.inside === 'cystic' || w.inside === 'spongiform') return 0;
  let points = w.inside === 'mixed' ? 1 : 2;
  points += (
    { anechoic: 0, hyperechoic: 1, isoechoic: 1, hypoechoic: 2, 'very-hypoechoic': 3 } as Record<string, number>
  )[w.dark] as number;
  if (w.tall) points += 3;
  if (w.edge === 'out') points += 3;
  else if (jagged.includes(w.edge)) points += 2;
  if (w.spots.includes('macrocalcification')) points += 1;
  if (w.spots.includes('rim-calcification') || w.spots.includes('rim-extrusion')) points += 2;
  if (w.spots.includes('punctate')) points += 3;
  return points;
}

function acr(w: Whole): [string, string] {
  const points = acrPoints(w);
  if (points === 0) return ['TR1', 'no-sampling'];
  if (points <= 2) return ['TR2', 'no-sampling'];
  if (points === 3) return ['TR3', w.mm >= 25 ? 'sample' : w.mm >= 15 ? 'follow-up' : 'no-sampling'];
  if (points <= 6) return ['TR4', w.mm >= 15 ? 'sample' : w.mm >= 10 ? 'follow-up' : 'no-sampling'];
  return ['TR5', w.mm >= 10 ? 'sample' : w.mm >= 5 ? 'follow-up' : 'no-sampling'];
}

function eu(w: Whole): [string | null, string] {
  if (w.inside === 'obscured') return [null, 'undetermined'];
  if (w.inside === 'cystic' || (w.inside === 'spongiform' && w.sponge)) return ['2', 'no-sampling'];
  const worry =
    w.tall ||
    w.edge === 'out' ||
    jagged.includes(w.edge) ||
    w.spots.includes('punctate') ||
    w.dark === 'very-hypoechoic';
  if (worry) return ['5', w.mm > 10 ? 'sample' : 'follow-up'];
  if (w.dark === 'hypoechoic' || w.darkPart) return ['4', w.mm > 15 ? 'sample' : 'follow-up'];
  return ['3', w.mm > 20 ? 'sample' : 'follow-up'];
}

function ata(w: Whole): [string, string] {
  if (w.inside === 'obscured') return ['unclassified', 'undetermined'];
  if (w.inside === 'cystic') return ['benign', 'no-sampling'];
  if (w.inside === 'spongiform') return veryLow(w);
  const worry =
    w.tall ||
    w.edge === 'out' ||
    jagged.includes(w.edge) ||
    w.spots.includes('punctate') ||
    w.spots.includes('rim-extrusion');
  const dark = w.dark === 'hypoechoic' || w.dark === 'very-hypoechoic';
  if (worry && dark) return ['high', w.mm >= 10 ? 'sample' : 'follow-up'];
  if (worry) return ['unclassified', w.mm >= 15 ? 'sample' : w.mm >= 10 ? 'undetermined' : 'follow-up'];
  if (w.inside === 'solid' && dark) return ['intermediate', w.mm >= 10 ? 'sample' : 'follow-up'];
  if (w.inside === 'solid' || w.off) return ['low', w.mm >= 15 ? 'sample' : 'follow-up'];
  return veryLow(w);
}

function veryLow(w: Whole): [string, string] {
  return ['very-low', w.mm >= 20 ? 'optional' : w.mm > 10 ? 'follow-up' : 'no-sampling'];
}

function plain(w: Whole): string {
  if (w.inside === 'cystic' || w.inside === 'spongiform') return 'no-sampling';
  if (w.inside === 'solid') return w.mm > 10 ? 'sample' : 'follow-up';
  if (w.inside === 'obscured' || w.part === undefined) return 'undetermined';
  const worry = w.tall || w.edge === 'out' || jagged.includes(w.edge) || w.spots.includes('punctate');
  return w.part > (worry ? 10 : 15) ? 'sample' : 'follow-up';
}

/** Every outcome and level that the unknowns of this nodule leave open under each policy, each list sorted. */
export function secondReading(told: ToldNodule): Answers {
  const all = wholes(told);
  const points = all.map(acrPoints);
  const sorted = (values: (string | null)[]) => [...new Set(values.filter((value) => value !== null))].sort();
  const pair = (rule: (w: Whole) => [string | null, string]) => {
    const results = all.map(rule);
    return { decisions: sorted(results.map((r) => r[1])), levels: sorted(results.map((r) => r[0])) };
  };
  return {
    'common-practice': { decisions: sorted(all.map(plain)), levels: [] },
    'acr-2017': pair(acr),
    'eu-2017': pair(eu),
    'ata-2015': pair(ata),
    points: [Math.min(...points), Math.max(...points)],
  };
}
