/** W: the question that is open, in other words. */
import { roles } from '../../case/roles.ts';
import { isFrozen } from '../frozen.ts';
import { askingThread, type Interpreter } from '../interpret.ts';
import type { Matter } from '../moment.ts';
import { saysNextCheck } from '../open-alarm.ts';
import type { Turn } from '../turn.ts';

/**
 * The question in full, one option a line. A doctor's question of the ladder is shown again; with nothing open that is said.
 */
function inOtherWords(turn: Turn, interpreter: Interpreter): void {
  const { person } = interpreter;
  const asking = askingThread(turn);
  if (asking && isFrozen(turn, asking)) {
    turn.say(person, 'people.frozen', { frame: null, caseId: asking.caseId });
    return;
  }
  if (asking) {
    interpreter.show(asking.id, true);
    return;
  }
  const own = turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
  const meant = own.find((one) => one.id === turn.state.lastQuestionId) ?? own.at(-1);
  if (meant) {
    turn.post(person.id, { kind: 'ask-doctor', questionId: meant.id, rung: meant.rung }, { caseId: meant.caseId });
    return;
  }
  if (saysNextCheck(turn, person)) return;
  turn.say(person, 'desk.nothing-asked', { frame: null, caseId: null });
}

export const otherWords: Matter = { commands: { W: { roles, run: inOtherWords } } };
