/** What lies on the table for one patient, as `/table` answers it. */
export interface TableTimer {
  readonly what: 'alcohol' | 'spray' | 'watch';
  /** Epoch ms. */
  readonly from: number;
  readonly until: number;
}

export interface TableSpecimen {
  readonly id: string;
  readonly code: string;
  /** One a slide: how its smear was reported; null before the report. */
  readonly slides: readonly (string | null)[];
  /** Lines of the label; empty until the slides are fixed. */
  readonly label: readonly string[];
}

export interface Table {
  readonly caseId: string;
  /** Within this a smear stays wet, s. */
  readonly fixSeconds: number;
  readonly specimens: readonly TableSpecimen[];
  readonly timers: readonly TableTimer[];
}
