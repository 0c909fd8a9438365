import type { BethesdaNumeral, CytologyCode, ThyCode, TirCode } from './categories.ts';

/** Share of cancers among nodules that were operated and seen by a pathologist: higher than among all. Percent. */
export type HistologyOnlyRisk = {
  readonly basis: 'histology-only';
  readonly percent: number;
  readonly confidence95: readonly [number, number];
  readonly source: string;
};

/** Share of cancers among all nodules with the category, operated or not. Percent. */
export type AllCasesRisk = { readonly basis: 'all-cases'; readonly percent: number; readonly source: string };

/** The same of one department, without an interval. */
export type DepartmentRisk = { readonly basis: 'histology-only'; readonly percent: number; readonly source: string };

/** The band that the system's own publication gives. Percent; null where it gives none. `below`: printed as `< below`. */
export type SystemRisk = {
  readonly basis: 'system-publication';
  readonly percent: number | null;
  readonly range: readonly [number, number] | null;
  readonly below: number | null;
  readonly source: string;
};

/**
 * Risk of malignancy, each basis in its own field with its own type, so that figures of two bases never stand for one
 * another. Figures belong to the code as the laboratory said it, not to its crosswalk.
 */
export type RiskOfMalignancy = {
  readonly histologyOnly: HistologyOnlyRisk | null;
  readonly histologyOnlyDepartment: DepartmentRisk | null;
  readonly allCases: AllCasesRisk | null;
  readonly system: SystemRisk | null;
  readonly systemChildren: SystemRisk | null;
};

type Interval = readonly [percent: number, low: number, high: number];

/** Poller et al., Cancer Cytopathol 2020;128:36-42: 13 studies, histology-proven, 95 % confidence interval. */
const POLLER_2020: { readonly [code in ThyCode]: Interval | null } = {
  Thy1: [12, 5, 22],
  Thy1c: null,
  Thy2: [5, 3, 9],
  Thy2c: null,
  Thy3a: [25, 20, 31],
  Thy3f: [31, 24, 39],
  Thy4: [79, 70, 87],
  Thy5: [98, 97, 99],
};

/**
 * One UK department 2011-2014, all cases (PMID 28082414); Thy1 with 1c and Thy2 with 2c counted together. For Thy4 and Thy5 it
 * gives nodules seen by a pathologist only.
 */
const UK_ALL_CASES: { readonly [code in ThyCode]: number | null } = {
  Thy1: 4.0,
  Thy1c: 4.0,
  Thy2: 1.4,
  Thy2c: 1.4,
  Thy3a: 14.5,
  Thy3f: 26.7,
  Thy4: null,
  Thy5: null,
};

/** The same department and years, histology only. */
const UK_HISTOLOGY: { readonly [code in ThyCode]: number | null } = {
  Thy1: null,
  Thy1c: null,
  Thy2: null,
  Thy2c: null,
  Thy3a: 36.1,
  Thy3f: 33.3,
  Thy4: 81.8,
  Thy5: 100,
};

/** Bethesda 2023, adults and children: mean and range (PMC10600596, table 3). */
const BETHESDA_2023: { readonly [numeral in BethesdaNumeral]: { readonly adult: Interval; readonly child: Interval } } =
  {
    I: { adult: [13, 5, 20], child: [14, 0, 33] },
    II: { adult: [4, 2, 7], child: [6, 0, 27] },
    III: { adult: [22, 13, 30], child: [28, 11, 54] },
    // The table prints 58-100, impossible with a mean of 50; 28 is from memory.
    IV: { adult: [30, 23, 34], child: [50, 28, 100] },
    V: { adult: [74, 67, 83], child: [81, 40, 100] },
    VI: { adult: [97, 97, 100], child: [98, 86, 100] },
  };

type Expected =
  | { readonly below: number }
  | { readonly range: readonly [number, number] }
  | { readonly printed: number };

/** SIAPEC-AIT 2014, expected risk, as printed (Insights Imaging 2021, table 1; Adv Med 2019:3932721, table 1; the society's table). */
const TIR_EXPECTED: { readonly [code in TirCode]: Expected | null } = {
  TIR1: null,
  TIR1C: null,
  TIR2: { below: 3 },
  TIR3A: { below: 10 },
  TIR3B: { range: [15, 30] },
  TIR4: { range: [60, 80] },
  // The tables that were read print 95; the journal has "over 95", from memory.
  TIR5: { printed: 95 },
};

const none: RiskOfMalignancy = {
  histologyOnly: null,
  histologyOnlyDepartment: null,
  allCases: null,
  system: null,
  systemChildren: null,
};

/** Gives every published risk of a code, each with its source; null where none was read. */
export function riskOf(code: CytologyCode): RiskOfMalignancy {
  if (isThy(code)) return thyRisk(code);
  if (isTir(code)) return { ...none, system: tirRisk(code) };
  const numeral = code.slice('Bethesda '.length) as BethesdaNumeral;
  return {
    ...none,
    system: bethesdaRisk(BETHESDA_2023[numeral].adult, 'adults'),
    systemChildren: bethesdaRisk(
      BETHESDA_2023[numeral].child,
      numeral === 'IV' ? 'children, lower end from memory' : 'children',
    ),
  };
}

function thyRisk(code: ThyCode): RiskOfMalignancy {
  const pooled = POLLER_2020[code];
  const together = code.startsWith('Thy1') ? ', Thy1 and 1c' : code.startsWith('Thy2') ? ', Thy2 and 2c' : '';
  const department = `UK department 2011-2014 (PMID 28082414)${together}`;
  const all = UK_ALL_CASES[code];
  const operated = UK_HISTOLOGY[code];
  return {
    ...none,
    histologyOnly: pooled && {
      basis: 'histology-only',
      percent: pooled[0],
      confidence95: [pooled[1], pooled[2]],
      source: 'Poller et al., Cancer Cytopathol 2020;128:36-42, 13 studies',
    },
    histologyOnlyDepartment:
      operated === null ? null : { basis: 'histology-only', percent: operated, source: department },
    allCases: all === null ? null : { basis: 'all-cases', percent: all, source: department },
  };
}

function tirRisk(code: TirCode): SystemRisk | null {
  const expected = TIR_EXPECTED[code];
  if (expected === null) return null;
  const observed =
    code === 'TIR3A' || code === 'TIR3B'
      ? '; observed higher, 17 % TIR3A and 47 % TIR3B: Trimboli et al., Endocrine 2019;63:430'
      : '';
  const printed = code === 'TIR5' ? '; over 95 in the journal, from memory' : '';
  return {
    basis: 'system-publication',
    percent: 'printed' in expected ? expected.printed : null,
    range: 'range' in expected ? expected.range : null,
    below: 'below' in expected ? expected.below : null,
    source: `SIAPEC-AIT 2014, Insights Imaging 2021, table 1${observed}${printed}`,
  };
}

function bethesdaRisk(row: Interval, who: string): SystemRisk {
  return {
    basis: 'system-publication',
    percent: row[0],
    range: [row[1], row[2]],
    below: null,
    source: `Bethesda 2023, ${who} (PMC10600596, table 3; Ali et al., Thyroid 2023;33:1039-1044)`,
  };
}

function isThy(code: CytologyCode): code is ThyCode {
  return code in POLLER_2020;
}

function isTir(code: CytologyCode): code is TirCode {
  return code in TIR_EXPECTED;
}
