import type { Case } from '../../../src/case/case.ts';
import { findingsOf } from '../../../src/case/findings-of.ts';
import { parseFindings } from '../../../src/clinical/findings.ts';
import { assess, weighCase } from '../../../src/clinical/indication.ts';
import { shipped } from '../../support/shipped.ts';
import type { Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

const { policy } = shipped.programme;

/** What `assess` says of the same findings, handed over as they are printed, is what the conversation decided. */
export const decisionAgrees: Invariant = {
  name: 'assess and the conversation agree, proposals included',
  broken: (walked) => {
    const decided = recordsOf(walked).filter(({ record }) => record.event.type === 'decided');
    return decided.flatMap(({ record, after }, index) => {
      const { event } = record;
      if (event.type !== 'decided') return [];
      const again = assessed(walked, after);
      if (again === null) return ['the findings are refused by assess'];
      const { assessment, proposed } = event;
      const {
        nodules: _of,
        proposed: _all,
        ...ours
      } = JSON.parse(JSON.stringify(again.assessment)) as Record<string, unknown>;
      const { nodules: _ours, proposed: _kept, ...kept } = assessment as Record<string, unknown>;
      const breaches = [];
      if (JSON.stringify(ours) !== JSON.stringify(kept)) {
        breaches.push(`assess says ${JSON.stringify(ours)}, the conversation ${JSON.stringify(kept)}`);
      }
      // What a doctor added is no part of the rules' own proposal.
      const before = decided[index - 1]?.record.event;
      const added = before?.type === 'decided' && reasonsOf(before.assessment) === reasonsOf(assessment);
      const own = sameShape(again.proposed, proposed);
      if (!added && JSON.stringify(own) !== JSON.stringify(proposed)) {
        breaches.push(`assess proposes ${JSON.stringify(own)}, the conversation ${JSON.stringify(proposed)}`);
      }
      return breaches;
    });
  },
};

const reasonsOf = (assessment: unknown): string => {
  const { decision, because } = assessment as { readonly decision?: string; readonly because?: readonly string[] };
  return JSON.stringify([decision, because]);
};

/** By id alone where the record has no more. */
function sameShape(ours: unknown, theirs: readonly unknown[]): unknown {
  if (!Array.isArray(ours) || theirs.some((one) => typeof one !== 'string')) return ours;
  return ours.map((one: unknown) => (typeof one === 'string' ? one : (one as { nodule: string | null }).nodule));
}

function assessed(walked: Walked, of: Case): { readonly assessment: object; readonly proposed: unknown } | null {
  const findings = findingsOf(of, { guidance: walked.guidance, year: 2030 });
  const parsed = parseFindings(JSON.parse(JSON.stringify(findings)));
  if (!parsed.ok) return null;
  const assessment = assess(parsed.findings, { policy });
  const own = 'proposed' in assessment ? assessment.proposed : weighCase(parsed.findings, policy).selection.proposed;
  return { assessment, proposed: own };
}
