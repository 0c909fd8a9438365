/** Acts of a recorder, one after the other, on the draft of a step. */

import { assertNever } from '../clinical/assert-never.ts';
import { isRaised } from './alarm-digits.ts';
import { countWrongDigits } from './guesses.ts';
import type { Act } from './moment.ts';
import type { Frame, Question } from './state.ts';
import { type FlowTraits, type Traits, traitsOf } from './traits.ts';
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
        const flow = frame.flow === '-' ? '-' : `${frame.flow}@${frame.hash}`;
        turn.record(act.caseId ?? currentCase!, act.event, flow);
        break;
      }
      case 'vars':
        current = { ...current, vars: { ...current.vars, ...act.vars } };
        break;
      case 'item':
        current = { ...current, item: act.item };
        break;
      case 'case':
        currentCase = act.caseId;
        current = { ...current, item: null, trail: [] };
        break;
      case 'end-threads':
        endThreads(turn, act, frame.id);
        break;
      case 'raise':
        raise(turn, act.caseId);
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
      case 'file-question':
        fileQuestion(turn, act.question, currentCase!);
        break;
      case 'wrong-digits':
        if (turn.person) countWrongDigits(turn, turn.person, 'secret');
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
      default:
        assertNever(act);
    }
  }
  return { frame: current, caseId: currentCase };
}

function fileQuestion(turn: Turn, question: Question, caseId: string): void {
  const { id, about, urgency, words } = question;
  turn.putQuestion({ ...question, caseId });
  turn.record(caseId, { type: 'doctor-asked', question: id, about, urgency, words });
}

/** Ends what is asked here of this case in flows with these traits, but for the frame `here` where that is kept, and open alarms. */
export function endThreads(turn: Turn, act: Extract<Act, { do: 'end-threads' }>, here: string): void {
  const over = turn.threads.filter(({ caseId, frames }) => {
    const isHere = act.keepsOwn === true && frames.some((one) => one.id === here);
    if (isHere || caseId !== act.caseId) return false;
    return frames.some((one) => {
      const isMeant = act.item === undefined || one.item === act.item;
      return isMeant && !isRaised(turn, one) && hasTraits(traitsOf(turn.world.flows, one), act.traits);
    });
  });
  // An alarm that came over such a thread goes on by itself.
  const isOver = (one: Frame): boolean => !isRaised(turn, one);
  for (const frame of over.flatMap((one) => one.frames.filter(isOver))) turn.cancelTimers(frame.id);
  turn.threads = turn.threads.flatMap((one) => {
    if (!over.includes(one)) return [one];
    const raised = one.frames.filter((frame) => !isOver(frame));
    return raised.length > 0 ? [{ ...one, frames: raised }] : [];
  });
}

function hasTraits(traits: Traits, { endsWhen, ...wanted }: FlowTraits): boolean {
  if (endsWhen !== undefined && traits.endsWhen?.includes(endsWhen) !== true) return false;
  return (Object.keys(wanted) as (keyof typeof wanted)[]).every((name) => traits[name] === wanted[name]);
}

/** What waits for its day is due now: the patient is here. */
function raise(turn: Turn, caseId: string): void {
  const own = turn.threads.filter((one) => one.caseId === caseId);
  turn.threads = [...turn.threads.filter((one) => one.caseId !== caseId), ...own];
  turn.disturbed = true;
  for (const { ask, frames } of own) {
    const top = frames.at(-1);
    const name = traitsOf(turn.world.flows, top ?? null).resumesOn;
    if (ask !== null || !top || name === undefined || !turn.person) continue;
    turn.cancelTimers(top.id, name);
    const what = { kind: 'timer', frameId: top.id, entry: top.entry, name, late: 'fire' } as const;
    turn.post(turn.person.id, what, { caseId, name, frameId: top.id });
    const coming = { ...top, vars: { ...top.vars, comesAt: turn.now } };
    turn.threads = turn.threads.map((one) =>
      one.frames.at(-1) === top ? { ...one, frames: [...one.frames.slice(0, -1), coming] } : one,
    );
  }
}
