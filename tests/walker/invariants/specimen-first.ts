import type { Invariant } from './invariant.ts';
import { isWhole, withCase } from './invariant.ts';

const afterNeedle = new Set(['slides-fixed', 'labelled', 'aftercare-done', 'posted']);
const flows = new Set(['sampling', 'labelling', 'aftercare', 'posting']);

/** A specimen with side and size before the briefing, aftercare, label or post. */
export const specimenFirst: Invariant = {
  name: 'a specimen with side and size stands before briefing, label, aftercare and post',
  broken: (walked) =>
    withCase(walked).flatMap(({ entry, of }) => {
      const recorded = entry.kind === 'recorded' && afterNeedle.has(entry.record.event.type);
      const said = entry.kind === 'said' && entry.caseId === walked.of.id && flows.has(entry.flow);
      if (!of || (!recorded && !said)) return [];
      const what = entry.kind === 'said' ? `"${entry.text}"` : recorded ? entry.record.event.type : '';
      if (of.specimens.length === 0) return [`no specimen at ${what}`];
      return of.specimens
        .filter((one) => one.end === null && !isWhole(of, one))
        .map((one) => `${one.id} without side or size at ${what}`);
    }),
};
