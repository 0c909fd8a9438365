/** A question to the doctors that no longer needs an answer: the thing it asked for has happened at the clinic. */

import type { Json } from '../../case/events.ts';
import type { TextKey } from '../../generated/text-keys.ts';
import type { Act, Moment } from '../moment.ts';
import type { Question } from '../state.ts';

/** How a question ends without its answer. `tell`: every doctor who was asked reads this text, with `q`, the tag. */
interface Ending {
  readonly now: number;
  /** Person id, or `line`. */
  readonly by: string;
  readonly answer: string;
  readonly tell?: TextKey;
  readonly vars?: Readonly<Record<string, Json>>;
}

/** Ends a question of any case, so that it stops climbing; who answers it later is told that it is over. */
export function settleQuestion(question: Question, { now, by, answer, tell, vars = {} }: Ending): readonly Act[] {
  const { caseId, item, askedOf, tag } = question;
  const ended = { ...question, answeredAt: now, answeredBy: by, answer };
  if (tell === undefined) return [{ do: 'put-question', question: ended }];
  const what = { kind: 'tell', key: tell, caseId, item, vars: { q: tag, ...vars }, lane: 'notice' } as const;
  return [
    { do: 'put-question', question: ended },
    ...askedOf.map((personId): Act => ({ do: 'post', personId, what, ...(caseId === null ? {} : { caseId }) })),
  ];
}

/** The same for the question that the frame waits for. Without an open one nothing happens. */
export function closeQuestion(
  moment: Moment,
  answer: string,
  tell: TextKey,
  vars: Readonly<Record<string, Json>> = {},
): readonly Act[] {
  const question = moment.questions.find((one) => one.id === moment.frame.vars.question);
  if (!question || question.answeredAt !== null) return [];
  return settleQuestion(question, { now: moment.now, by: moment.person.id, answer, tell, vars });
}
