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
        endThreads(turn, act);
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

function endThreads(turn: Turn, act: Extract<Act, { do: 'end-threads' }>): void {
  const states: readonly string[] | undefined = act.states;
  const over = turn.threads.filter(({ caseId, frames }) => {
    if (caseId !== act.caseId || frames[0]?.flow !== act.flow) return false;
    if (frames.some((one) => one.flow === 'sos')) return false;
    return states === undefined || states.includes(frames.at(-1)!.state);
  });
  for (const frame of over.flatMap((one) => one.frames)) turn.cancelTimers(frame.id);
  turn.threads = turn.threads.filter((one) => !over.includes(one));
}

/** What waits for its day is due now: the patient is here. */
function raise(turn: Turn, caseId: string): void {
  const own = turn.threads.filter((one) => one.caseId === caseId);
  turn.threads = [...turn.threads.filter((one) => one.caseId !== caseId), ...own];
  turn.disturbed = true;
  for (const { ask, frames } of own) {
    const top = frames.at(-1);
    if (ask !== null || !top || waitsForDay.get(top.flow) !== top.state || !turn.person) continue;
    turn.cancelTimers(top.id, 'day');
    const what = { kind: 'timer', frameId: top.id, entry: top.entry, name: 'day', late: 'fire' } as const;
    turn.post(turn.person.id, what, { caseId, name: 'day', frameId: top.id });
  }
}

/** By flow, the state in which a needle waits for the day that was agreed (timer `day`). */
const waitsForDay: ReadonlyMap<string, string> = new Map([
  ['decision', 'waits-for-day'],
  ['ready', 'waits'],
]);
