import { isRaised } from './alarm-digits.ts';
import type { Interpreter } from './interpret.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';

/** Asks the practice question: once, however often somebody joins, and not while an alarm of this person is open. */
export function practise(turn: Turn, interpreter: Interpreter): void {
  if (turn.threads.some((one) => one.frames.some((frame) => isRaised(turn, frame)))) {
    turn.say(interpreter.person, 'join.after-alarm', { frame: null, caseId: null });
    turn.disturbed = true;
    return;
  }
  const begun = turn.threads.filter((one) =>
    one.frames.some((frame) => traitsOf(turn.world.flows, frame).teaches !== undefined),
  );
  for (const frame of begun.flatMap((one) => one.frames)) turn.cancelTimers(frame.id);
  turn.threads = turn.threads.filter((one) => !begun.includes(one));
  interpreter.run('join');
}
