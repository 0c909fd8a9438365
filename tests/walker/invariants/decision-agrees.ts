import { answerOf, type Case } from '../../../src/case/case.ts';
import { findingsOf, nodulesOf } from '../../../src/case/findings-of.ts';
import { againstNeedle } from '../../../src/clinical/against-needle.ts';
import { parseFindings } from '../../../src/clinical/findings.ts';
import { assess } from '../../../src/clinical/indication.ts';
import { localTime } from '../../../src/conversation/schedule.ts';
import type { Recorded, Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { recordsOf } from './invariant.ts';

/** What `assess` says of the same findings, handed over as they are printed, is what the conversation decided. */
export const decisionAgrees: Invariant = {
  name: 'assess and the conversation agree, proposals included',
  broken: (walked) => {
    const decided = recordsOf(walked).filter(({ record }) => record.event.type === 'decided');
    return decided.flatMap(({ record, after }, index) => {
      const { event } = record;
      if (event.type !== 'decided') return [];
      const again = assessed(walked, after, record.at);
      if (again === null) return ['the findings are refused by assess'];
      const { assessment, proposed } = event;
      // After a doctor's yes the conversation says first what stands in spite of it, against what is proposed now.
      const isReleased = recordsOf(walked).some((one) => one.at <= record.at && isYes(one));
      const before = decided[index - 1]?.record.event;
      const beside = isReleased
        ? [
            ...proposed.flatMap((one) => againstNeedle(again.findings, one, walked.programme.inrHours)),
            ...(isFeltUnclear(after) ? ['palpable-unknown'] : []),
          ]
        : [];
      const ours = comparable(again.assessment, beside);
      const kept = comparable(assessment, beside);
      const breaches = [];
      // With the yes itself what is proposed is added to the decision as it was: its reasons are those of the question.
      const repeated = before?.type === 'decided' && reasonsOf(before.assessment) === reasonsOf(assessment);
      const isWithYes = repeated && recordsOf(walked).some((one) => one.at === record.at && isYesTaken(one));
      if (!isWithYes && ours !== kept) breaches.push(`assess says ${ours}, the conversation ${kept}`);
      // What a doctor added is no part of the rules' own proposal.
      const added = repeated || (isReleased && again.proposed.length === 0);
      const own = JSON.stringify(again.proposed);
      if (!added && own !== JSON.stringify(proposed)) {
        breaches.push(`assess proposes ${own}, the conversation ${JSON.stringify(proposed)}`);
      }
      return breaches;
    });
  },
};

const isYes = ({ record: { event } }: Recorded): boolean =>
  event.type === 'doctor-answered' && (event.answer === 'sample' || event.answer === 'drain');

/** The yes has come to the clinic's conversation, which may have been beside another patient when it was given. */
const isYesTaken = ({ record: { event } }: Recorded): boolean =>
  event.type === 'answered' && event.field === 'doctor-allows';

/** Which lump is felt was asked, and nobody could tell: that stands against a needle into any, a cyst to be emptied too. */
const isFeltUnclear = (of: Case): boolean => nodulesOf(of).some((item) => answerOf(of, 'palpable', item) === 'unknown');

/** An assessment as it is compared: without what is weighed of each lump, its reasons without those added beside it. */
function comparable(assessment: unknown, beside: readonly string[]): string {
  const { nodules: _of, proposed: _all, ...rest } = JSON.parse(JSON.stringify(assessment)) as Record<string, unknown>;
  const because = Array.isArray(rest.because) ? rest.because : [];
  return JSON.stringify({ ...rest, because: [...because.filter((one) => !beside.includes(one))].sort() });
}

const reasonsOf = (assessment: unknown): string => {
  const { decision, because } = assessment as { readonly decision?: string; readonly because?: readonly string[] };
  return JSON.stringify([decision, because]);
};

function assessed(walked: Walked, of: Case, at: number) {
  const year = localTime(at, walked.programme.zone).year;
  const findings = findingsOf(of, { guidance: walked.guidance, year });
  const parsed = parseFindings(JSON.parse(JSON.stringify(findings)));
  if (!parsed.ok) return null;
  const assessment = assess(parsed.findings, walked.programme);
  return { assessment, findings: parsed.findings, proposed: assessment.proposed };
}
