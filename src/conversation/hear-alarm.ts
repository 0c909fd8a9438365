/** Alarms in a text of somebody on the line: the word SOS always, plain words where they are heard, an open alarm's own words. */

import { foldWord } from '../text/fold.ts';
import { alarmAgain, worseBeside } from './alarm-again.ts';
import { answerAlarm } from './answer-alarm.ts';
import type { Alarm } from './hearing/alarm-in.ts';
import { isOwnCopy } from './hearing/copies.ts';
import { type Cry, cryIn } from './hearing/cry.ts';
import { hearsCries } from './hearing/patient-near.ts';
import { saysSos } from './hearing/sos-spelling.ts';
import type { Interpreter } from './interpret.ts';
import { endCry, offerAlarm, raiseAlarm } from './matters/raise-alarm.ts';
import { tagInFront } from './question-tag.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** What an alarm in a text did. `first-aid`: nothing is raised yet, and the text may be read for more. */
export type HeardAlarm = 'dealt-with' | 'first-aid' | 'none';

/** The word SOS, or plain words of danger as this person is heard now. */
export function alarmHeard(turn: Turn, person: Person, text: string): Alarm | Cry | null {
  if (saysSos(text) || isSosWord(turn, person, text)) return 'sos';
  if (!hearsCries(turn, person) || isAboutSomebodyNew(turn, person, text)) return null;
  return cryIn(text, turn.world.texts.alarmWords(person.locale));
}

/** Another word of the language for SOS, alone: EMERGENCY. */
function isSosWord(turn: Turn, person: Person, text: string): boolean {
  return turn.world.texts.keyword(person.locale, text.replace(/[^\p{L}\p{N}]+/gu, '')) === 'SOS';
}

/** Hears an alarm in a text. `elsewhere`: the text is an exact answer to an open question: its words are that answer. */
export function hearAlarm(turn: Turn, interpreter: Interpreter, text: string, elsewhere: boolean): HeardAlarm {
  const { person } = interpreter;
  // Our own text, word for word, was sent back by a machine: it says SOS because we did.
  if (isOwnCopy(turn.state, text)) return 'none';
  const heard = elsewhere ? (saysSos(text) ? 'sos' : null) : alarmHeard(turn, person, text);
  if (heard === 'sos') {
    turn.registry.commands.get('SOS')?.run(turn, interpreter, text);
    return done(turn);
  }
  if (heard === 'now') {
    raiseAlarm(turn, interpreter, text, true);
    return done(turn);
  }
  const other = elsewhere ? null : worseBeside(turn, person, text);
  if (other) {
    raiseAlarm(turn, interpreter, text, true, other);
    return done(turn);
  }
  if (answerAlarm(turn, interpreter, text, elsewhere)) return done(turn);
  const again = elsewhere ? null : alarmAgain(turn, person, text);
  if (again?.says === 'worse') {
    raiseAlarm(turn, interpreter, text, true, again.about);
    return done(turn);
  }
  // WELL that the network delivers once more, behind the end of its alarm.
  if (heard === null && again?.says === 'no-more') return endedSaid(turn, person, again.about?.caseId ?? null);
  if (heard === null && again === null)
    return isFine(turn, person, text) && endCry(turn, interpreter) ? overSaid(turn, person) : 'none';
  offerAlarm(turn, interpreter, text, again?.about ?? null);
  return 'first-aid';
}

function done(turn: Turn): HeardAlarm {
  turn.state = { ...turn.state, misses: 0 };
  return 'dealt-with';
}

/** FINE, after first aid for words that were no alarm. */
function isFine(turn: Turn, person: Person, text: string): boolean {
  const words = foldWord(text)
    .replace(/[^\p{L}\p{N} ]+/gu, '')
    .trim();
  return turn.world.texts.alarmWords(person.locale).some((one) => one.answers.fine.includes(words));
}

function overSaid(turn: Turn, person: Person): HeardAlarm {
  turn.say(person, 'cry.over', { frame: null, caseId: turn.aboutCaseId });
  turn.disturbed = true;
  return done(turn);
}

function endedSaid(turn: Turn, person: Person, caseId: string | null): HeardAlarm {
  turn.say(person, 'sos.asked-no-more', { frame: null, caseId });
  turn.disturbed = true;
  return done(turn);
}

/** `NEW AK 1982 F R 22x15x14 ...` tells of findings, and a doctor's `47 2 ...` of somebody else's patient. */
function isAboutSomebodyNew(turn: Turn, person: Person, text: string): boolean {
  const first = foldWord(/^\s*([^\s,;:]+)/u.exec(text)?.[1] ?? '');
  if (turn.world.texts.keyword(person.locale, first) === 'NEW' && /\d{2}/.test(text)) return true;
  const tag = person.roles.includes('doctor') ? tagInFront(text) : null;
  return turn.questions.some((one) => one.tag === tag && one.askedOf.includes(person.id));
}
