/** Where a case stands on its way: pure, from its record and what it owes. */

import { answerOf, type Case, currentResult, type Specimen } from '../../../case/case.ts';
import type { Duty } from '../../../case/duty.ts';
import { assertNever } from '../../../clinical/assert-never.ts';
import { type StepId, type StepState, type StripStep, stepIds } from './strip.ts';

/** The ten steps of a case. `duty`: what it owes (`dutyOf`); null = it is closed, and nothing is now or ahead. */
export function stepsOf(of: Case, duty: Duty | null): readonly StripStep[] {
  const now = duty === null ? null : stepNow(of, duty);
  const place = now === null ? stepIds.length : stepIds.indexOf(now);
  return stepIds.map((id, index) => {
    const done = id === now ? null : doneAt(of, id);
    if (done !== null) return { id, state: 'done', at: done.at };
    const state: StepState = id === now ? 'now' : index > place && isToCome(of, id) ? 'ahead' : 'left-out';
    return { id, state, at: null };
  });
}

function stepNow(of: Case, duty: Duty): StepId | null {
  if (duty.what === 'referral') return 'seen';
  switch (of.status) {
    case 'findings':
      return 'lump';
    case 'decision':
      return 'decision';
    case 'readiness':
      return 'needle';
    case 'sampling':
      return openOf(of).every((one) => one.attempts.at(-1) === 'material') ? 'fixed' : 'needle';
    case 'labelling':
      return 'label';
    case 'aftercare':
      return 'watch';
    case 'posting':
      return 'post';
    case 'posted':
      return 'laboratory';
    case 'received':
      return 'result';
    case 'action':
      // Glass that cannot be used has no result, and waits for one or for a new needle.
      return openOf(of).some((one) => one.results.length === 0) ? 'result' : 'seen';
    case 'closed':
      return null;
    default:
      return assertNever(of.status);
  }
}

const afterTheWatch: ReadonlySet<StepId> = new Set(['post', 'laboratory', 'result', 'seen']);
const ofGlass: ReadonlySet<StepId> = new Set(['fixed', 'label', 'post', 'laboratory', 'result']);

/** False: what is not done by now is not going to be. */
function isToCome(of: Case, id: StepId): boolean {
  if (of.practice && afterTheWatch.has(id)) return false;
  // The needle gave nothing that can be sent: what is left is the watch and another plan.
  const gaveNothing = of.specimens.length > 0 && openOf(of).length === 0;
  return !(gaveNothing && ofGlass.has(id));
}

/** When a step was done, of two specimens the later one; null = it is not done. */
function doneAt(of: Case, id: StepId): { readonly at: number | null } | null {
  switch (id) {
    case 'lump':
      return said(of.decided?.at ?? null);
    case 'decision':
      return decisionAt(of);
    case 'needle':
      return ofSpecimens(of, (one) => said(one.takenAt));
    case 'fixed':
      return ofSpecimens(of, (one) => said(one.fixedAt));
    case 'label':
      return ofSpecimens(of, (one) => said(one.labelledAt));
    case 'watch':
      return said(of.aftercareAt);
    case 'post':
      return ofSpecimens(of, (one) => said(one.postedAt));
    case 'laboratory':
      // A result may come from glass whose receipt nobody confirmed.
      return ofSpecimens(of, (one) => said(one.receivedAt) ?? (one.results.length > 0 ? { at: null } : null));
    case 'result':
      return ofSpecimens(of, (one) => said(currentResult(one)?.at ?? null));
    case 'seen':
      return seenAt(of);
    default:
      return assertNever(id);
  }
}

function said(at: number | null): { readonly at: number } | null {
  return at === null ? null : { at };
}

function openOf(of: Case): readonly Specimen[] {
  return of.specimens.filter((one) => one.end === null);
}

/** A case with two open specimens is as far as the slower one; one that has ended is as far as it came. */
function ofSpecimens(
  of: Case,
  at: (one: Specimen) => { readonly at: number | null } | null,
): { readonly at: number | null } | null {
  const open = openOf(of);
  const found = (open.length > 0 ? open : of.specimens).map(at);
  const done = found.filter((one) => one !== null);
  if (done.length === 0 || (open.length > 0 && done.length < found.length)) return null;
  const instants = done.flatMap((one) => one.at ?? []);
  return { at: instants.length === 0 ? null : Math.max(...instants) };
}

/** Decided: somebody said that the needle is to be, or where the patient goes instead. */
function decisionAt(of: Case): { readonly at: number | null } | null {
  const issued = of.milestones.find(({ event }) => event.type === 'code-issued');
  if (issued) return { at: of.answeredAt['go-ahead'] ?? issued.at };
  if (of.status === 'readiness') return said(of.answeredAt['go-ahead'] ?? null);
  const instead = of.milestones.findLast(({ event }) => event.type === 'not-sampled');
  return of.decided !== null && instead ? { at: instead.at } : null;
}

/** Told, seen or otherwise brought to an end after a result; after a referral: seen there. */
function seenAt(of: Case): { readonly at: number | null } | null {
  if (answerOf(of, 'referral-seen') === 'seen') return said(of.answeredAt['referral-seen'] ?? null);
  if (of.status !== 'closed') return null;
  const reached = of.specimens.filter((one) => one.end === 'attended' || one.end === 'reviewed');
  if (reached.length === 0) return null;
  const ended = of.milestones.findLast(
    ({ event }) => event.type === 'specimen-closed' && reached.some((one) => one.id === event.specimen),
  );
  return { at: ended?.at ?? null };
}
