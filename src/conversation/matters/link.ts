/** The links that carry the texts, as the coordinators hear of them, and their prepaid budget. */
import type { Interpreter } from '../interpret.ts';
import type { Matter } from '../moment.ts';
import type { Turn } from '../turn.ts';

/** More is a slip of the finger. Line convention. */
const segmentsAtMost = 1_000_000;

/** `CREDIT 2000`: so many segments were bought. The count is taken over after the coordinator's challenge. */
function credit(turn: Turn, interpreter: Interpreter, rest: string): void {
  const segments = /^\d{1,7}$/.test(rest.trim()) ? Number(rest.trim()) : 0;
  if (segments < 1 || segments > segmentsAtMost) {
    turn.say(interpreter.person, 'credit.how', { frame: null, caseId: null });
    turn.disturbed = true;
    return;
  }
  interpreter.run('credit', { vars: { segments } });
}

export const link: Matter = {
  commands: { CREDIT: { roles: ['coordinator'], run: credit } },
  recorders: {
    'take-credit': (m) => [{ do: 'credit', channel: 'sms', segments: Number(m.frame.vars.segments ?? 0) }],
  },
  values: {},
};
