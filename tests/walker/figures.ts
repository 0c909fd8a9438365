/** How many patients of each kind were walked. */
import type { Walked } from './transcript.ts';
import { targetFacts } from './transcript.ts';

/** Kinds that must not be rare, each with its test. */
export const kinds: Readonly<Record<string, (walked: Walked) => boolean>> = {
  needle: ({ of }) => of.specimens.some(({ attempts }) => attempts.length > 0),
  'child with a needle': ({ of, truth }) => truth.age < 18 && of.specimens.some(({ attempts }) => attempts.length > 0),
  child: ({ truth }) => truth.age < 18,
  node: ({ truth }) => truth.node !== null,
  'node specimen': ({ of }) => of.specimens.some((one) => targetFacts(of, one).kind === 'node'),
  fluid: ({ of }) => of.specimens.some(({ attempts }) => attempts.some((one) => String(one) === 'fluid')),
  'two lumps': ({ truth }) => truth.lumps.length > 1,
  'two specimens': ({ of }) => of.specimens.length > 1,
  pregnant: ({ truth }) => truth.pregnantWeeks !== null,
  warfarin: ({ truth }) => truth.facts.has('warfarin'),
  'other day': ({ of }) => of.answers['sampling-day'] !== undefined,
  "doctor's release": ({ entries }) =>
    entries.some(
      (one) =>
        one.kind === 'recorded' && one.record.event.type === 'doctor-answered' && one.record.event.answer === 'sample',
    ),
  'slip of the worker': ({ entries }) => entries.some((one) => one.kind === 'sent' && one.slip !== 'none'),
};

/** Least of each kind among 3,000 patients. */
export const leastOf3000: Readonly<Record<string, number>> = {
  needle: 1000,
  child: 100,
  node: 100,
  'node specimen': 100,
  fluid: 100,
  'two lumps': 100,
  pregnant: 100,
  warfarin: 100,
  'other day': 100,
  "doctor's release": 100,
};

/** Least of each Thy class among 3,000 patients. */
export const leastResultsOf3000 = 60;

export class Figures {
  patients = 0;
  readonly counts = new Map<string, number>();
  readonly results = new Map<string, number>();
  readonly ends = new Map<string, number>();

  add(walked: Walked): void {
    this.patients += 1;
    for (const [kind, is] of Object.entries(kinds)) if (is(walked)) more(this.counts, kind);
    for (const { results } of walked.of.specimens) {
      for (const { result } of results) more(this.results, result.canonical ?? result.code);
    }
    more(
      this.ends,
      walked.of.status === 'closed' ? (walked.of.specimens[0]?.end ?? walked.of.closed ?? '') : walked.of.status,
    );
  }

  of(kind: string): number {
    return this.counts.get(kind) ?? 0;
  }

  toString(): string {
    const list = (of: ReadonlyMap<string, number>): string =>
      [...of]
        .sort((a, b) => b[1] - a[1])
        .map(([name, count]) => `${name} ${count}`)
        .join(', ');
    return `${this.patients} patients: ${list(this.counts)}\nresults: ${list(this.results)}\nends: ${list(this.ends)}`;
  }
}

function more(of: Map<string, number>, key: string): void {
  of.set(key, (of.get(key) ?? 0) + 1);
}
