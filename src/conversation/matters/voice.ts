/** BRIEF and PLAIN: how much a worker's texts say. */
import type { Interpreter } from '../interpret.ts';
import { inAlarm } from '../keep-voice.ts';
import type { Matter } from '../moment.ts';
import type { Turn } from '../turn.ts';
import { chooseBrief, choosePlain, mayBeBrief } from '../voice.ts';

function brief(turn: Turn, { person }: Interpreter): void {
  turn.disturbed = true;
  if (!mayBeBrief(person)) {
    turn.say(person, 'voice.shared', { frame: null, caseId: null });
    return;
  }
  if (inAlarm(turn)) {
    turn.say(person, 'voice.in-alarm', { frame: null, caseId: null, lane: 'sos' });
    return;
  }
  turn.state = { ...turn.state, voice: chooseBrief(turn.state.voice, turn.now) };
  turn.say(person, 'voice.brief', { frame: null, caseId: null });
}

function plain(turn: Turn, { person }: Interpreter): void {
  turn.disturbed = true;
  turn.state = { ...turn.state, voice: choosePlain(turn.state.voice) };
  turn.say(person, mayBeBrief(person) ? 'voice.plain' : 'voice.shared', { frame: null, caseId: null });
}

/** Everyday words: from anybody else they are the beginning of a sentence. */
export const voice: Matter = {
  commands: {
    BRIEF: { roles: ['worker'], everyday: true, run: brief },
    PLAIN: { roles: ['worker'], everyday: true, run: plain },
  },
};
