/** Texts from numbers that the roster does not hold, or holds without trusting them yet. */

import type { TextKey } from '../generated/text-keys.ts';
import { screensOf } from '../text/screens.ts';
import { channelFacts } from './channel-facts.ts';
import { firstAidKey } from './first-aid-key.ts';
import { alarmHeard, hearAlarm } from './hear-alarm.ts';
import { hearEvent } from './hear-event.ts';
import { cryIn } from './hearing/cry.ts';
import { saysSos } from './hearing/sos-spelling.ts';
import { Interpreter } from './interpret.ts';
import { alarmHearers } from './people.ts';
import { asciiWords } from './plain-words.ts';
import { practise } from './practise.ts';
import { durationOf, limitOf } from './programme.ts';
import { dayText, localTime } from './schedule.ts';
import { comeBack } from './standing.ts';
import { alarmThread } from './stopped.ts';
import type { Turn } from './turn.ts';
import type { Person } from './world.ts';

/** First aid once, a join number where one is open, and little else: unknown senders share a small daily number of answers. */
export function hearStranger(turn: Turn, text: string): void {
  if (turn.event.kind === 'due') return;
  const words = asciiWords(text);
  const known = turn.person;
  const locale = known?.locale ?? 'en';
  if (known?.state === 'invited' && join(turn, known, words)) return;
  const from = turn.event.from.address;
  // Numbers with letters, short codes and numbers without their country are never answered: no text would arrive.
  const answered = channelFacts(turn.event.from.channel).address !== 'phone-number' || /^\+\d{7,15}$/.test(from);
  const sos = isAlarm(turn, locale, text);
  // First aid once a day; what comes after it is answered like any other text of somebody unknown.
  const first = sos && !turn.world.firstAidGiven;
  const hearers = alarmHearers(turn.world, known, turn.now);
  if (first) {
    turn.onceKeys.push(firstAidKey(turn.event.from, turn.now));
    const named = known ? `${from} (${known.name})` : from;
    for (const one of hearers.people) turn.post(one.id, { kind: 'unknown-alarm', from: named, answered });
  }
  if (!answered) return;
  // The parts of one long text get one answer.
  if (!sos && turn.event.kind === 'unreadable' && (turn.event.part?.number ?? 1) > 1) return;
  if (turn.world.strangersToday >= limitOf(turn.world.programme, 'strangers-a-day') && !first) return;
  // The store counts by the same day.
  const day = localTime(turn.now, 'UTC');
  turn.strangerAnswer = dayText(day);
  const off = known?.state === 'suspended' ? 'staff.off-the-line' : 'common.stranger';
  const aid = first ? 'common.stranger-first-aid' : 'common.stranger-sos-again';
  const key = sos ? aid : off;
  sayTo(turn, locale, key);
  if (first) sayTo(turn, locale, hearers.as === 'nobody' ? 'common.stranger-nobody' : 'common.stranger-reached');
}

/** The word, or plain words: whoever is not on the line knows none of its own. */
function isAlarm(turn: Turn, locale: string, text: string): boolean {
  return saysSos(text) || cryIn(text, turn.world.texts.alarmWords(locale)) !== null;
}

function sayTo(turn: Turn, locale: string, key: TextKey): void {
  const { voiceNumber, hospital } = turn.world.programme;
  const vars: Record<string, string> = { voice: voiceNumber, hospital };
  const text = turn.world.texts.render(locale, key, (name) => vars[name] ?? '');
  for (const screen of screensOf(text)) turn.sayToStranger(turn.world.texts.asDrawn(locale, screen));
}

/** True: the text held the join number, right or wrong, and was dealt with. */
function join(turn: Turn, person: Person, words: readonly string[]): boolean {
  // Also written in two groups, as codes are.
  const digits = words.map((word) => word.replace(/\D/g, ''));
  const number = [...digits, digits.join('')].find((word) => word.length === 6);
  const invitation = turn.world.invitation;
  if (!number || !invitation) return false;
  const spent =
    invitation.used ||
    invitation.validUntil < turn.now ||
    invitation.wrongTries >= limitOf(turn.world.programme, 'wrong-join-tries');
  const right = !spent && invitation.number === number;
  turn.changePeople({ kind: 'use-invitation', invitationId: invitation.id, wrongTry: !right });
  if (!right) {
    if (invitation.wrongTries + 1 === limitOf(turn.world.programme, 'wrong-join-tries')) {
      turn.notify('coordinators', 'common.join-guessed', 'notice', null, null, { who: person.name });
    }
    turn.say(person, spent ? 'join.number-spent' : 'join.wrong-number', { frame: null, caseId: null });
    return true;
  }
  const joined: Person = { ...person, state: 'joined' };
  turn.changePeople({ kind: 'put-person', person: joined });
  // Another number of somebody who has practised: they go on where they were.
  if (joined.practised) comeBack(turn, new Interpreter(turn, joined));
  else practise(turn, new Interpreter(turn, joined));
  return true;
}

/** Words by which somebody on the line begins, takes or sends off a patient's sample. */
const beginnings: ReadonlySet<string> = new Set(['NEW', 'TAKE', 'POST', 'NOPARCEL']);

/** A person who sent STOP is answered only when they write first: SOS as always, START to come back. */
export function hearStopped(turn: Turn, person: Person, text: string): void {
  const words = asciiWords(text);
  const interpreter = new Interpreter(turn, person);
  const alarm = alarmThread(turn);
  const keyword = turn.world.texts.keyword(person.locale, words[0] ?? '');
  // With an alarm open their answers are heard, and no more: what they began would be told to a phone that gets nothing.
  const isBeginning = keyword !== null && beginnings.has(keyword);
  if (alarmHeard(turn, person, text) !== null || (alarm?.ask && keyword !== 'START' && !isBeginning)) {
    const { event } = turn;
    if (event.kind !== 'due') hearEvent(turn, person, event);
    return;
  }
  // Between two checks nothing is asked, and the alarm's own words are understood all the same.
  if (alarm && keyword !== 'START' && hearAlarm(turn, interpreter, text, false) !== 'none') return;
  const itself = turn.event.kind === 'text' || turn.event.kind === 'tap';
  if (itself && keyword === 'START') {
    const back: Person = { ...person, state: 'joined' };
    turn.changePeople({ kind: 'put-person', person: back });
    comeBack(turn, new Interpreter(turn, back));
    turn.notify('coordinators', 'common.somebody-started', 'notice', null, null, { who: person.name });
    turn.disturbed = true;
    return;
  }
  if (keyword === 'STOP') return;
  if (!isBeginning && turn.state.lastInAt > turn.now - durationOf(turn.world.programme, 'stopped-answer')) return;
  turn.state = { ...turn.state, lastInAt: turn.now };
  turn.say(person, 'common.you-stopped', { frame: null, caseId: null });
}
