import { type Parsed, read, unreadable } from './answer.ts';
import { longestReply, tidy } from './reply.ts';
import { type NoduleSide, type SizeToken, type SizeUnit, scanSizes } from './size-tokens.ts';

/**
 * One nodule as it was measured: one or three diameters in mm in the order said, or a range; where two may stand, two.
 * Exactly one of the three is set.
 */
export interface MeasuredNodule {
  readonly side: NoduleSide | null;
  readonly mm: readonly number[] | null;
  readonly mmRange: readonly [number, number] | null;
  readonly mmTwo?: readonly [number, number];
}

/** How sizes are read: folded words for sides and, beside `mm` and `cm`, for units. */
export interface DiametersRule {
  readonly sides: Readonly<Record<string, NoduleSide>>;
  readonly units?: Readonly<Record<string, SizeUnit>>;
  readonly maxNodules: number;
  /** Every nodule must say its side. */
  readonly sideRequired: boolean;
  /** Two of three sizes are taken as such: the third is asked for later. */
  readonly twoMayStand?: boolean;
}

/** Sizes outside are asked again (our convention: slips of a digit, not a statement about thyroids). */
const leastMm = 1;
const mostMm = 150;
/** Without a unit, nothing above this is taken for cm by mistake (our convention). */
const surelyMm = 5;
/** Without a unit, a diameter this many times another is a slip until the unit is written (our convention). */
const mostRatio = 8;

/** Sizes of one nodule that are more likely a slip than a shape. */
export function unlikelyTogether(mm: readonly number[]): boolean {
  return Math.max(...mm) > mostRatio * Math.min(...mm);
}

/**
 * One or several nodules: `22x15x14`, `R 22 15 14 L 8x6x6`, `2.2*1.5*1.4cm`, `2,2 x 1,5 x 1,4 cm`, `22`, `12-16`.
 * No unit means mm, unless that is unlikely: then the unit is asked for, never guessed. A unit behind the last diameter
 * holds for its nodule only. Sides stand all before or all behind their sizes; anything else is `needs-side`.
 */
export function readDiameters(text: string, rule: DiametersRule): Parsed<readonly MeasuredNodule[]> {
  if (text.length > longestReply) return unreadable('too-long');
  const plain = tidy(text);
  if (plain === '') return unreadable('empty');
  const tokens = scanSizes(plain, rule.sides, rule.units ?? {});
  if (!tokens?.some((token) => token.kind === 'number')) return unreadable('not-a-size');
  const groups = groupBySide(tokens);
  if (!groups.ok) return groups;
  const nodules: MeasuredNodule[] = [];
  const inCm: boolean[] = [];
  for (const group of groups.value) {
    const chains = chainsOf(group.sizes);
    if (!chains.ok) return chains;
    if (chains.value.length > 1 && group.side !== null) return unreadable('needs-side');
    for (const chain of chains.value) {
      const sizes = measure(chain, rule.twoMayStand === true);
      if (!sizes.ok) return sizes;
      nodules.push({ side: group.side, ...sizes.value });
      inCm.push(chain.numbers.some((number) => number.unit === 'cm'));
    }
  }
  // `R 22x15x14 L 8x6x6 cm`: nobody measures one nodule in mm and the next in cm; with all units written it stands.
  const unitless = groups.value.some((group) => !group.sizes.some((part) => part.kind === 'unit'));
  if (unitless && inCm.includes(true)) return unreadable('needs-unit');
  if (nodules.length > rule.maxNodules) return unreadable('too-many-nodules');
  const unsided = nodules.some((nodule) => nodule.side === null);
  return rule.sideRequired && unsided ? unreadable('needs-side') : read(nodules);
}

type SizePart = Exclude<SizeToken, { kind: 'side' }>;
interface SideGroup {
  readonly side: NoduleSide | null;
  readonly sizes: readonly SizePart[];
}

function groupBySide(tokens: readonly SizeToken[]): Parsed<readonly SideGroup[]> {
  const said = tokens.filter((token) => token.kind !== 'part');
  const before = said[0]?.kind === 'side';
  const behind = said.at(-1)?.kind === 'side';
  const any = tokens.some((token) => token.kind === 'side');
  if (any && before === behind) return unreadable('needs-side');
  const groups: { side: NoduleSide | null; sizes: SizePart[] }[] = any && before ? [] : [{ side: null, sizes: [] }];
  for (const token of tokens) {
    const open = groups.at(-1);
    if (token.kind !== 'side') {
      // `R - 22x15x14`: a dash behind a side joins nothing.
      if (open && !(before && token.kind === 'dash' && open.sizes.length === 0)) open.sizes.push(token);
      continue;
    }
    if (before) groups.push({ side: token.side, sizes: [] });
    else {
      open!.side = token.side;
      groups.push({ side: null, sizes: [] });
    }
  }
  if (behind) groups.pop();
  if (groups.some((group) => !group.sizes.some((token) => token.kind === 'number'))) return unreadable('not-a-size');
  return { ok: true, value: groups };
}

interface Chain {
  readonly numbers: readonly { readonly text: string; readonly unit: SizeUnit | null }[];
  readonly joint: 'times' | 'space' | 'dash' | null;
}

/** Parts one side's sizes into nodules. Three numbers with spaces are one nodule; two or more than three are unclear. */
function chainsOf(parts: readonly SizePart[]): Parsed<readonly Chain[]> {
  const chains: { numbers: { text: string; unit: SizeUnit | null }[]; joint: Chain['joint'] }[] = [];
  let pending: 'times' | 'dash' | 'space' | 'new' = 'new';
  for (const part of parts) {
    const chain = chains.at(-1);
    const last = chain?.numbers.at(-1);
    switch (part.kind) {
      case 'number': {
        const joins = pending !== 'new' && chain && (chain.joint === null || chain.joint === pending);
        if (joins && pending !== 'new') {
          chain.joint = pending;
          chain.numbers.push({ text: part.text, unit: null });
        } else if (pending === 'times' || pending === 'dash' || (pending === 'space' && chain?.joint === 'dash')) {
          return unreadable('not-a-size');
        } else chains.push({ numbers: [{ text: part.text, unit: null }], joint: null });
        pending = 'space';
        break;
      }
      case 'unit':
        if (!last || last.unit !== null || pending !== 'space') return unreadable('not-a-size');
        last.unit = part.unit;
        break;
      case 'times':
      case 'dash':
        if (!chain || pending !== 'space') return unreadable('not-a-size');
        pending = part.kind;
        break;
      case 'part':
        if (pending === 'times' || pending === 'dash') return unreadable('not-a-size');
        pending = 'new';
        break;
    }
  }
  if (pending === 'times' || pending === 'dash') return unreadable('not-a-size');
  // A list with spaces behind a chain with signs is unclear: `22x15 14`.
  const clear = chains.every((chain, index) => chainIsClear(chain, chains[index + 1]));
  return clear ? { ok: true, value: chains } : unreadable('not-a-size');
}

function chainIsClear(chain: Chain, next: Chain | undefined): boolean {
  const count = chain.numbers.length;
  if (count > 3) return false;
  if (chain.joint === 'space') return count === 3 && next?.joint !== 'times';
  if (chain.joint === 'times' && count < 3) return next === undefined || next.joint === 'times';
  return true;
}

type Sizes = Omit<MeasuredNodule, 'side'>;

function measure(chain: Chain, twoMayStand: boolean): Parsed<Sizes> {
  const { numbers } = chain;
  const said = numbers.filter((number) => number.unit !== null).map((number) => number.unit!);
  const common = said[0] ?? null;
  const mixed = said.some((unit) => unit !== common);
  // A unit behind the last diameter holds for all; one in the middle, or two kinds, hold only for their own.
  const shared = !mixed && numbers.at(-1)!.unit !== null ? common : null;
  if (common !== null && shared === null && said.length < numbers.length) return unreadable('needs-unit');
  const mm: number[] = [];
  for (const number of numbers) {
    const value = toMm(number.text, number.unit ?? shared ?? 'mm');
    if (value === null) return unreadable('not-a-size');
    mm.push(value);
  }
  if (common === null) {
    if (numbers.some((number, index) => /[.,]/.test(number.text) && mm[index]! < 10)) return unreadable('needs-unit');
    if (mm.every((value) => value > 0 && value <= surelyMm)) return unreadable('needs-unit');
  }
  if (mm.some((value) => value < leastMm || value > mostMm)) return unreadable('out-of-range');
  if (common === null && unlikelyTogether(mm)) return unreadable('unlikely-size');
  // The one that is left out may be the biggest, by which everything is decided.
  if (numbers.length === 2 && chain.joint !== 'dash') {
    if (!twoMayStand) return unreadable('needs-third');
    return { ok: true, value: { mm: null, mmRange: null, mmTwo: mm as [number, number] } };
  }
  if (chain.joint !== 'dash' || numbers.length === 3) return { ok: true, value: { mm, mmRange: null } };
  const [least, most] = mm as [number, number];
  return least < most ? { ok: true, value: { mm: null, mmRange: [least, most] } } : unreadable('not-a-size');
}

/** Millimetres to a tenth; null for more decimals than a caliper shows. */
function toMm(text: string, unit: SizeUnit): number | null {
  const [whole = '', decimals = ''] = text.split(/[.,]/);
  if (whole.length > 4 || decimals.length > (unit === 'cm' ? 2 : 1)) return null;
  const value = Number(`${whole}.${decimals || '0'}`);
  return unit === 'cm' ? Math.round(value * 100) / 10 : value;
}
