/** The question that lets a frozen case go on. */
import { visitStatuses } from '../case/bedside.ts';
import type { Case } from '../case/case.ts';
import type { FlowQuestion } from './flow.ts';
import type { Turn } from './turn.ts';

/** Asked of the doctors when a case was called wrong: only they let it go on. */
export const frozenQuestion: FlowQuestion = {
  urgency: 'waiting',
  about: 'wrong',
  options: [
    { id: 'release', reply: '1', care: false },
    { id: 'keep', reply: '2', care: true },
    { id: 'call-me', reply: '3', care: true },
  ],
};

/** The same, in a hurry only where the patient sits there: nobody is woken for a case that can wait till morning. */
export function frozenFor(of: Case): FlowQuestion {
  const urgency = visitStatuses.has(of.status) || of.sos !== null ? 'waiting' : 'today';
  return { ...frozenQuestion, urgency };
}

/** Asks for the release of a case, unless that is being asked. "Stays frozen" is no end: it is asked again another day. */
export function askToRelease(turn: Turn, of: Case): void {
  const asked = turn.questions.some(
    (one) => one.caseId === of.id && one.about === frozenQuestion.about && one.answeredAt === null,
  );
  if (!asked) turn.openQuestion({ ...frozenQuestion, urgency: 'today' }, of.id, null, '', { askedBy: of.ownerId });
}
