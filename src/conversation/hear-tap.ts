/** Taps on buttons: each answers its own question only. */
import { foldWord } from '../text/fold.ts';
import { isRaised } from './alarm-digits.ts';
import { askToken, doctorToken, isDoctorToken } from './ask-token.ts';
import { questionByTag } from './doctor-desk.ts';
import { hearAnswer, hearText } from './hear.ts';
import { hearAlarm } from './hear-alarm.ts';
import { askingThread, Interpreter, topFrame } from './interpret.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** A button was tapped: an answer to its own question only, as long as that is open. */
export function hearTap(turn: Turn, person: Person, token: string, reply: string): void {
  if (isDoctorToken(token)) {
    tapDoctorQuestion(turn, person, token, reply);
    return;
  }
  const asking = askingThread(turn);
  const asked = threadOfToken(turn, token);
  // A button names its patient, so it may answer a question that another one was put on top of; not so in an alarm.
  const behindAlarm = asking !== null && asking.id !== asked?.id && isRaised(turn, topFrame(asking));
  // An older button of an alarm may raise it, or prove what its digits prove; it says nothing of how the patient is now.
  const raises = !turn.world.texts.alarmWords(person.locale).some((one) => one.answers.same.includes(foldWord(reply)));
  if ((!asked || behindAlarm) && raises && hearAlarm(turn, new Interpreter(turn, person), reply, false) !== 'none')
    return;
  if (!asked || behindAlarm) {
    oldButton(turn, person);
    return;
  }
  new Interpreter(turn, person).raise(asked.id);
  hearAnswer(turn, person, asked, reply);
}

/**
 * The thread whose open question this names; null when there is none any more. It names its patient, so it may be answered
 * when another question was put on top of it; not so in an alarm.
 */
export function threadOfToken(turn: Turn, token: string): Thread | null {
  const asking = askingThread(turn);
  const asked = turn.threads.find((one) => one.ask && askToken(one.ask.frameId, one.ask.entry) === token) ?? null;
  const behindAlarm = asking !== null && asking.id !== asked?.id && isRaised(turn, topFrame(asking));
  return behindAlarm ? null : asked;
}

/** Its reply carries the question's tag, which another question may have been given since. */
function tapDoctorQuestion(turn: Turn, person: Person, token: string, reply: string): void {
  const tag = /^\d+/.exec(reply)?.[0] ?? '';
  const meant = questionByTag(turn, person, tag);
  if (!meant || doctorToken(meant.id) !== token) oldButton(turn, person);
  else hearText(turn, person, reply, null);
}

function oldButton(turn: Turn, person: Person): void {
  turn.say(person, 'common.old-button', { frame: null, caseId: askingThread(turn)?.caseId ?? null });
  turn.disturbed = true;
}
