import type { Case } from '../../../src/case/case.ts';
import type { Entry, Recorded, Said, Sent, Walked } from '../transcript.ts';
import type { Invariant } from './invariant.ts';
import { withCase } from './invariant.ts';

/** From the first finding to the end of the watch; what follows is asked again by its time until it is done. */
const flows = new Set(['new', 'decision', 'target', 'node', 'ready', 'sampling', 'labelling', 'aftercare']);
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
      const key = `${entry.flow}.${entry.step} ${entry.ask.item ?? ''} ${day(entry.at)} ${standing(of)}`;
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

/** What is known of the patient, and how far each specimen is. */
function standing(of: Case): string {
  const found = Object.entries(of.answers).filter(([field, value]) => !procedural.has(field) && value !== null);
  const sampled = of.specimens.map((one) => [
    ...[one.codeChecked, one.attempts, one.fluids, one.slides, one.fixedAt, one.labelledAt, one.end],
  ]);
  return JSON.stringify([found, sampled, of.aftercare, of.sos]);
}

/** Why a question may come again although nothing was found anew. */
function excused(walked: Walked, first: Said, again: Said, between: readonly Entry[]): boolean {
  const sent = between.filter((one): one is Sent => one.kind === 'sent' && one.by === first.to);
  // By time alone: a reminder of what is still open.
  if (sent.length === 0) return true;
  const slipped = sent.some(({ slip, at }) => slip !== 'none' || at - first.at > longAgoMs);
  // What came by itself, not as the answer's own consequence: the question is shown again below it.
  const answeredAt = new Set(sent.map(({ at }) => at));
  const other = between.some(
    (one) =>
      (one.kind === 'said' && isBeside(one, first, again) && !answeredAt.has(one.at)) ||
      (one.kind === 'said' && one.to === first.to && one.caseId !== walked.of.id && one.ask !== null) ||
      (one.kind === 'said' && one.to === first.to && one.ask !== null && isAside.has(one.flow)) ||
      (one.kind === 'said' && one.to === first.to && notTaken.has(one.step)) ||
      (one.kind === 'recorded' && (cameBetween.has(one.record.event.type) || isAskedAnew(one))),
  );
  // A line of the read-back was to be changed, and stayed as it was.
  const corrected = sent.some(({ ask, ids }) => ask?.field === 'findings-check' && ids[0] !== 'yes');
  // A step was said to be done, and its findings are asked; a known stop that comes round so is another fault.
  const redone = isOfSteps(again) && sent.some(({ ids }) => ids[0] === 'done');
  // Not yet (a check is named that is still not done), or on another day, or there now: a word on what was asked, which is looked at once more.
  const openStill = sent.some(
    ({ ids, ask }) => notYet.has(ids[0] ?? '') || (ask?.field === 'checks' && !ids.includes('all')),
  );
  return slipped || other || corrected || redone || openStill;
}

/** A text of another flow that asks nothing. */
const isBeside = (one: Said, first: Said, again: Said): boolean =>
  one.to === first.to && one.ask === null && one.flow !== again.flow;

const cameBetween = new Set(['doctor-answered', 'sos-raised', 'sos-over', 'retagged', 'taken-over', 'released']);

/** What the worker asked for in between has questions of its own. */
const isAside = new Set(['ask', 'cry', 'sos', 'freeze', 'end']);

/** Several patients here, or practice comes first: what was said was not taken. */
const notTaken = new Set(['common.of-whom', 'common.of-which', 'common.not-practised']);

/** A day was agreed, or has come: all that it may change is forgotten, and asked again up to here. */
const isAskedAnew = ({ record: { event } }: Recorded): boolean =>
  event.type === 'answered' &&
  ((event.field === 'asked-anew' && event.value === 'asking') || event.field === 'sampling-day');

/** Signs, family and bleeding are no steps: nobody has to do anything before they can be answered. */
const isOfSteps = ({ flow, step }: Said): boolean =>
  flow === 'decision' ||
  (flow === 'new' && !['breathing', 'story', 'lump', 'fixed-lump', 'family', 'bleeding', 'pregnant'].includes(step));

/** Answers after which the same is asked on purpose. */
const notYet = new Set(['not-yet', 'not-same', 'not-tight', 'other-day', 'at-hand', 'ask-again', 'again', 'now']);
