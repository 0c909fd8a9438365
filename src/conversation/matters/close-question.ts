/** A question to the doctors that no longer needs an answer: the thing it asked for has happened at the clinic. */

import type { Json } from '../../case/events.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import type { Act, Moment } from '../moment.ts';

/**
 * Closes the question that the frame waits for, so that it stops climbing, and tells every doctor who was asked the text
 * `key` with `q`, its tag. Without an open question nothing happens; who answers it later is told that it was closed.
 */
export function closeQuestion(
  moment: Moment,
  answer: string,
  key: TextKey,
  vars: Readonly<Record<string, Json>> = {},
): readonly Act[] {
  const question = moment.questions.find((one) => one.id === moment.frame.vars.question);
  if (!question || question.answeredAt !== null) return [];
  const closed = { ...question, answeredAt: moment.now, answeredBy: moment.person.id, answer };
  return [
    { do: 'put-question', question: closed },
    ...question.askedOf.map(
      (personId): Act => ({
        do: 'post',
        personId,
        what: {
          kind: 'tell',
          key,
          caseId: question.caseId,
          item: question.item,
          vars: { q: question.tag, ...vars },
          lane: 'notice',
        },
      }),
    ),
  ];
}
