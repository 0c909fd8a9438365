/** Where the rule of the two voices meets a conversation: what counts for it, and when a change is said. */
import { isFirstAid, isOpenAlarm, isRaised } from './alarm-digits.ts';
import { durationOf, limitOf } from './programme.ts';
import { traitsOf } from './traits.ts';
import type { Turn } from './turn.ts';
import {
  afterPatient,
  afterSampled,
  afterTime,
  afterUnread,
  backToPlain,
  isOffered,
  mayBeBrief,
  type PlainReason,
  type VoiceKept,
  type VoiceLimits,
} from './voice.ts';
import type { Person } from './world.ts';

/** Before anything is said: who had no patient for long is texted in plain. */
export function forgetBrief(turn: Turn): void {
  if (turn.person && turn.state.voice !== undefined) {
    put(turn, afterTime(turn.state.voice, turn.now, limitsOf(turn)));
  }
}

/** What reaches this conversation brings plain back. */
export function speakPlainly(turn: Turn, because: PlainReason): void {
  if (turn.state.voice !== undefined) put(turn, backToPlain(turn.state.voice, because));
}

/** An answer of this matter could not be read. */
export function countUnread(turn: Turn, of: string): void {
  if (turn.state.voice !== undefined) put(turn, afterUnread(turn.state.voice, of, limitsOf(turn)));
}

/** True: first aid or an emergency is going on with this person. */
export function inAlarm(turn: Turn): boolean {
  return turn.threads.some((one) => one.frames.some((frame) => isFirstAid(turn, frame) || isOpenAlarm(turn, frame)));
}

/** What is said meanwhile is plain, whatever was chosen: who asks for other words gets whole sentences. */
export function inPlainWords(turn: Turn, say: () => void): void {
  const { voice, ...rest } = turn.state;
  turn.state = rest;
  say();
  if (voice !== undefined) turn.state = { ...turn.state, voice };
}

/** At the end of a step: counts whom this worker sampled, ends brief in an alarm, and says what changed, before the question. */
export function keepVoice(turn: Turn): void {
  const { person } = turn;
  if (person?.state !== 'joined' || !mayBeBrief(person)) return;
  const ofPatient = turn.changedCases.some(
    ({ value, records }) => !value.practice && records.some(({ by }) => by === person.id),
  );
  if (ofPatient && turn.state.voice !== undefined) put(turn, afterPatient(turn.state.voice, turn.now));
  for (let count = firstSampled(turn, person); count > 0; count -= 1) put(turn, afterSampled(turn.state.voice));
  const raised = turn.threads.filter((one) => one.frames.some((frame) => isRaised(turn, frame)));
  if (raised.some((one) => turn.caseOf(one.caseId)?.practice !== true)) speakPlainly(turn, 'sos');
  // An emergency holds nothing but the emergency.
  if (inAlarm(turn)) return;
  const { voice } = turn.state;
  if (voice?.because !== undefined) {
    const { because, ...rest } = voice;
    put(turn, rest);
    sayBeforeQuestion(turn, person, `voice.back-${because}`);
    return;
  }
  if (voice === undefined || !isOffered(voice, limitsOf(turn)) || turn.event.kind === 'due' || isAtBed(turn)) return;
  put(turn, { ...voice, offered: true });
  sayBeforeQuestion(turn, person, 'voice.offer');
}

/** Patients in whom no needle had been before, and in whom this worker's was now. */
function firstSampled(turn: Turn, person: Person): number {
  return turn.changedCases.filter(({ value, records }) => {
    const before = turn.world.cases.find((one) => one.id === value.id);
    const isFirst = before?.specimens.every((one) => one.attempts.length === 0) ?? true;
    return (
      isFirst && !value.practice && records.some(({ by, event }) => by === person.id && event.type === 'attempted')
    );
  }).length;
}

/** A patient is being made ready, sampled or watched: nothing that can wait is said now. */
function isAtBed(turn: Turn): boolean {
  return turn.threads.some((one) =>
    one.frames.some((frame) => traitsOf(turn.world.flows, frame).bedside !== undefined),
  );
}

/** The question of this step stays the last text. */
function sayBeforeQuestion(turn: Turn, person: Person, key: `voice.back-${PlainReason}` | 'voice.offer'): void {
  const { offerAfter, awayMs } = limitsOf(turn);
  const vars = { count: String(offerAfter), days: String(Math.round(awayMs / 86_400_000)) };
  const said = turn.say(person, key, { frame: null, caseId: null, vars });
  if (!said) return;
  turn.says.splice(turn.says.indexOf(said), 1);
  let at = turn.says.length;
  const last = turn.says.at(-1);
  if (last?.ask && last.personId === person.id) {
    // Before all screens of that text.
    while (at > 0 && turn.says[at - 1]!.step === last.step && turn.says[at - 1]!.personId === person.id) at -= 1;
  }
  turn.says.splice(at, 0, said);
}

function limitsOf(turn: Turn): VoiceLimits {
  const { programme } = turn.world;
  return {
    awayMs: durationOf(programme, 'brief-away'),
    offerAfter: limitOf(programme, 'brief-offer'),
    unread: limitOf(programme, 'brief-unread'),
  };
}

function put(turn: Turn, voice: VoiceKept): void {
  turn.state = { ...turn.state, voice };
}
