/** Acts of a recorder, one after the other, on the draft of a step. */
import type { Act } from './moment.ts';
import type { Frame } from './state.ts';
import type { Turn } from './turn.ts';

/** Carries out what a recorder wants, on behalf of a frame. Returns the frame as changed by `vars` and `item`. */
export function carryOut(
  turn: Turn,
  acts: readonly Act[],
  frame: Frame,
  caseId: string | null,
): { frame: Frame; caseId: string | null } {
  let current = frame;
  let currentCase = caseId;
  for (const act of acts) {
    switch (act.do) {
      case 'record': {
        if (act.caseId === undefined && currentCase === null) currentCase = turn.nextId('c');
        turn.record(act.caseId ?? currentCase!, act.event, `${frame.flow}@${frame.hash}`);
        break;
      }
      case 'vars':
        current = { ...current, vars: { ...current.vars, ...act.vars } };
        break;
      case 'item':
        current = { ...current, item: act.item };
        break;
      case 'people':
        turn.changePeople(act.change);
        break;
      case 'post':
        turn.post(act.personId, act.what, {
          caseId: act.caseId ?? currentCase,
          ...(act.at === undefined ? {} : { at: act.at }),
          ...(act.name === undefined ? {} : { name: act.name }),
        });
        break;
      case 'question':
        turn.openQuestion(act.question, act.caseId ?? currentCase, act.item ?? current.item, act.words ?? '', act);
        break;
      case 'answer-question':
        turn.answerQuestion(act.questionId, act.answer, act.words);
        break;
      case 'echo':
        turn.say(act.person, act.text, { frame: null, caseId: null, vars: act.vars });
        break;
      case 'put-question':
        turn.putQuestion(act.question);
        break;
      case 'credit':
        turn.credits.push({ channel: act.channel, segments: act.segments });
        break;
      case 'notify':
        turn.notify(act.to, act.text, act.lane, act.caseId ?? currentCase, act.item ?? current.item, {
          ...current.vars,
          ...act.vars,
        });
        break;
    }
  }
  return { frame: current, caseId: currentCase };
}
