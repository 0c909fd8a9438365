import type { BethesdaNumeral, CanonicalCategory, CytologyCode, ThyCode, TirCode } from './categories.ts';

type Row = { readonly bethesda: BethesdaNumeral; readonly tir: TirCode };

/** The published crosswalk (de Koster, thesis, p. 25, table). */
const FROM_THY: { readonly [thy in ThyCode]: Row } = {
  Thy1: { bethesda: 'I', tir: 'TIR1' },
  Thy1c: { bethesda: 'I', tir: 'TIR1C' },
  Thy2: { bethesda: 'II', tir: 'TIR2' },
  Thy2c: { bethesda: 'II', tir: 'TIR2' },
  Thy3a: { bethesda: 'III', tir: 'TIR3A' },
  Thy3f: { bethesda: 'IV', tir: 'TIR3B' },
  Thy4: { bethesda: 'V', tir: 'TIR4' },
  Thy5: { bethesda: 'VI', tir: 'TIR5' },
};

/** The Thy codes that a canonical category stands for: one, or the two of a family. */
export function thyCodesOf(category: CanonicalCategory): readonly ThyCode[] {
  if (category === 'Thy1/1c') return ['Thy1', 'Thy1c'];
  if (category === 'Thy2/2c') return ['Thy2', 'Thy2c'];
  return [category];
}

/** What a code comes to in Thy. One-to-many stays a family (Bethesda I and II, TIR2) and is never guessed. */
export function canonicalOf(code: CytologyCode): CanonicalCategory {
  if (code === 'Bethesda I') return 'Thy1/1c';
  if (code === 'Bethesda II' || code === 'TIR2') return 'Thy2/2c';
  const rows = Object.entries(FROM_THY) as [ThyCode, Row][];
  const found = rows.find(([thy, row]) => thy === code || row.tir === code || `Bethesda ${row.bethesda}` === code);
  if (found === undefined) throw new Error(`no crosswalk for ${code}`);
  return found[0];
}

/**
 * The same category in each system; several codes where the systems do not say which. Never exact: criteria differ and
 * shift the risk (Endocrines 2021;2:311-319).
 */
export type Crosswalk = {
  readonly thy: readonly ThyCode[];
  readonly bethesda: readonly BethesdaNumeral[];
  readonly tir: readonly TirCode[];
  readonly exact: false;
  readonly notes: readonly ('cyst-fluid-only' | 'nuclear-atypia-may-be-tir3b' | 'approximate')[];
  readonly source: string;
};

/** Gives a canonical category in every system. */
export function crosswalk(category: CanonicalCategory): Crosswalk {
  const thy = thyCodesOf(category);
  const notes: Crosswalk['notes'][number][] = ['approximate'];
  if (category === 'Thy1c') notes.push('cyst-fluid-only');
  if (category === 'Thy3a') notes.push('nuclear-atypia-may-be-tir3b');
  return {
    thy,
    bethesda: [...new Set(thy.map((code) => FROM_THY[code].bethesda))],
    tir: [...new Set(thy.map((code) => FROM_THY[code].tir))],
    exact: false,
    notes,
    source: 'de Koster, thesis, p. 25, table; criteria differ: Endocrines 2021;2:311-319',
  };
}
