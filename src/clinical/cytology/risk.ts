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

/** The band that the system's own publication gives. Percent; null where it gives none. */
export type SystemRisk = {
  readonly basis: 'system-publication';
  readonly percent: number | null;
  readonly range: readonly [number, number] | null;
  readonly source: string;
};

/**
 * Risk of malignancy, each basis in its own field with its own type, so that figures of two bases never stand for one
 * another. Figures belong to the code as the laboratory said it, not to its crosswalk.
 */
export type RiskOfMalignancy = {
  readonly histologyOnly: HistologyOnlyRisk | null;
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

/** One UK department 2011-2014, all cases (PMID 28082414); Thy1 with 1c and Thy2 with 2c counted together. */
const UK_DEPARTMENT: { readonly [code in ThyCode]: number } = {
  Thy1: 4.0,
  Thy1c: 4.0,
  Thy2: 1.4,
  Thy2c: 1.4,
  Thy3a: 14.5,
  Thy3f: 26.7,
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

/** SIAPEC-AIT 2014, expected risk (Insights Imaging 2021, table 1; Adv Med 2019:3932721, table 1). */
const TIR_EXPECTED: { readonly [code in TirCode]: readonly [number, number] | null } = {
  TIR1: null,
  TIR1C: null,
  TIR2: [0, 3],
  TIR3A: [0, 10],
  TIR3B: [15, 30],
  TIR4: [60, 80],
  TIR5: [95, 95],
};

/** Gives every published risk of a code, each with its source; null where none was read. */
export function riskOf(code: CytologyCode): RiskOfMalignancy {
  if (isThy(code)) return thyRisk(code);
  if (isTir(code)) {
    const range = TIR_EXPECTED[code];
    const observed = code === 'TIR3A' || code === 'TIR3B';
    return {
      histologyOnly: null,
      allCases: null,
      system: range && {
        basis: 'system-publication',
        percent: null,
        range,
        source: `SIAPEC-AIT 2014, Insights Imaging 2021, table 1${observed ? '; observed higher, 17 % TIR3A and 47 % TIR3B: Trimboli et al., Endocrine 2019;63:430' : ''}`,
      },
      systemChildren: null,
    };
  }
  const numeral = code.slice('Bethesda '.length) as BethesdaNumeral;
  return {
    histologyOnly: null,
    allCases: null,
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
  return {
    histologyOnly: pooled && {
      basis: 'histology-only',
      percent: pooled[0],
      confidence95: [pooled[1], pooled[2]],
      source: 'Poller et al., Cancer Cytopathol 2020;128:36-42, 13 studies',
    },
    allCases: {
      basis: 'all-cases',
      percent: UK_DEPARTMENT[code],
      source: `UK department 2011-2014 (PMID 28082414)${together}`,
    },
    system: null,
    systemChildren: null,
  };
}

function bethesdaRisk(row: Interval, who: string): SystemRisk {
  return {
    basis: 'system-publication',
    percent: row[0],
    range: [row[1], row[2]],
    source: `Bethesda 2023, ${who} (PMC10600596, table 3; Ali et al., Thyroid 2023;33:1039-1044)`,
  };
}

function isThy(code: CytologyCode): code is ThyCode {
  return code in POLLER_2020;
}

function isTir(code: CytologyCode): code is TirCode {
  return code in TIR_EXPECTED;
}
