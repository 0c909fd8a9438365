import type { Case } from '../../../src/case/case.ts';
import type { Entry, Said, Sent, Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { withCase } from './invariant.ts';

const flows = new Set(['new', 'decision']);
/** Longer than this between question and answer, and the question is repeated before the answer counts. */
const longAgoMs = 30 * 60_000;
/** Answers about what is done next, not about the patient. */
const procedural = new Set(['go-ahead', 'findings-check', 'examined-now', 'sampling-day', 'referral-day']);

/** No question twice in a visit for the same findings, but for a slip, an interruption, or a change. */
export const askedOnce: Invariant = {
  name: 'no question is asked twice in a visit for the same findings',
  broken: (walked) => {
    const breaches: string[] = [];
    const before = new Map<string, number>();
    withCase(walked).forEach(({ entry, of }, index) => {
      if (entry.kind !== 'said' || entry.caseId !== walked.of.id || !entry.ask || !flows.has(entry.flow) || !of) return;
      // An emergency is asked about until it is over.
      if (entry.role !== 'worker' || entry.step.startsWith('emergency')) return;
      const key = `${entry.flow}.${entry.step} ${entry.ask.item ?? ''} ${day(entry.at)} ${findings(of)}`;
      const last = before.get(key);
      before.set(key, index);
      if (last === undefined) return;
      const between = walked.entries.slice(last + 1, index);
      if (!excused(walked, walked.entries[last] as Said, entry, between))
        breaches.push(`${entry.flow}.${entry.step} again: "${entry.text}"`);
    });
    return breaches;
  },
};

const day = (at: number): string => new Date(at).toISOString().slice(0, 10);

function findings(of: Case): string {
  return JSON.stringify(
    Object.entries(of.answers).filter(([field, value]) => !procedural.has(field) && value !== null),
  );
}

/** Why a question may come again although nothing was found anew. */
function excused(walked: Walked, first: Said, again: Said, between: readonly Entry[]): boolean {
  const sent = between.filter((one): one is Sent => one.kind === 'sent' && one.by === first.to);
  // By time alone: a reminder of what is still open.
  if (sent.length === 0) return true;
  const slipped = sent.some(({ slip, at }) => slip !== 'none' || at - first.at > longAgoMs);
  const other = between.some(
    (one) =>
      (one.kind === 'said' && one.to === first.to && one.ask === null && one.flow !== again.flow) ||
      (one.kind === 'said' && one.to === first.to && one.caseId !== walked.of.id && one.ask !== null) ||
      (one.kind === 'recorded' && ['doctor-answered', 'sos-raised', 'retagged'].includes(one.record.event.type)),
  );
  // A line of the read-back was to be changed, and stayed as it was.
  const corrected = sent.some(({ ask, ids }) => ask?.field === 'findings-check' && ids[0] !== 'yes');
  // A step was said to be done, and its findings are asked; a known stop that comes round so is another fault.
  const redone = sent.some(({ ids }) => ids[0] === 'done');
  // Put off, and put off again: a day is no finding.
  const postponed = sent.some(({ ids }) => ids[0] === 'other-day');
  return slipped || other || corrected || redone || postponed;
}
