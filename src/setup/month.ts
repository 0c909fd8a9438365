/** What a month costs by SMS: cases, each as it was played, and the coordinators' mornings. */
import type { Answers } from './answers.ts';

/** Segments of one whole case of all its people, in the dearest of the programme's languages. */
export interface CaseSegments {
  /** Sent by the line. */
  readonly out: number;
  /** Sent by people. */
  readonly in: number;
}

export interface Month {
  readonly out: number;
  readonly in: number;
  /** At the programme's price, both ways; null = none was given. */
  readonly money: { readonly amount: number; readonly ofCase: number; readonly currency: string } | null;
  /** Segments to buy before the first patient, for `CREDIT`. */
  readonly credit: number;
}

const days = 30;
/**
 * A fifth more than a month takes: reminders, repeats and alarms, and the line says when a fifth is left, so that the month
 * is over before it does. Line convention.
 */
const spare = 1.25;
const roundedTo = 100;

/** Figures of a month with so many cases. */
export function monthOf({ casesAMonth = 0, people, price }: Answers, ofCase: CaseSegments): Month {
  const mornings = days * people.filter((one) => one.roles.includes('coordinator') && hasSms(one)).length;
  const out = casesAMonth * ofCase.out + mornings;
  const ins = casesAMonth * ofCase.in;
  const cost = (each: CaseSegments): number => each.out * price!.perSegmentOut + each.in * price!.perSegmentIn;
  return {
    out,
    in: ins,
    money: price ? { amount: cost({ out, in: ins }), ofCase: cost(ofCase), currency: price.currency } : null,
    credit: Math.ceil((out * spare) / roundedTo) * roundedTo,
  };
}

function hasSms({ addresses }: { readonly addresses: readonly string[] }): boolean {
  return addresses.some((one) => one.startsWith('sms:'));
}
