/** What `B` may still change where its question has gone by: findings until the code, slides until the label, told until somebody acts. */
import { answered } from '../case/answers.ts';
import type { Case } from '../case/case.ts';
import { assertNever } from '../clinical/assert-never.ts';
import { isOpenAlarm } from './alarm-digits.ts';
import { type Interpreter, topFrame } from './interpret.ts';
import { closeQuestion } from './matters/close-question.ts';
import type { Frame, Thread } from './state.ts';
import { traitsOf, type Undoable, whereRedone } from './traits.ts';
import type { Turn } from './turn.ts';

/** `asked-again`: the question is shown. A person's name: that person has acted since. `no`: nothing here can be changed. */
export type Undone = 'asked-again' | 'no' | { readonly actedSince: string };

/** Leads back from this thread to the question that settled what its top frame `undoes`. */
export function undo(turn: Turn, interpreter: Interpreter, thread: Thread): Undone {
  const frame = topFrame(thread);
  const what = traitsOf(turn.world.flows, frame).undoes;
  const of = turn.caseOf(thread.caseId);
  const item = of && frame ? itemOf(of, what, frame) : null;
  if (!frame || !what || !of || isOpenAlarm(turn, frame) || !isOpen(of, what, item)) return 'no';
  const isOfPatient = what !== 'findings' && what !== 'slides';
  const acted = isOfPatient ? actedSince(turn, of, frame, interpreter.person.id) : null;
  if (acted !== null) return { actedSince: acted };
  const to = whereRedone(turn.world.flows, what);
  if (!to) return 'no';
  // A question that waits in front of the patient would be answered for what is being changed; an urgent one stays.
  const asked = turn.questions.find((one) => one.id === frame.vars.question);
  if (asked?.urgency === 'waiting') {
    const moment = turn.moment(frame, thread.caseId, interpreter.person, thread.ask);
    turn.carryOut(closeQuestion(moment, 'taken-back', 'doctor.taken-back'), frame, thread.caseId);
  }
  reopen(turn, of, what, item);
  const now = interpreter.thread(thread.id)!;
  interpreter.put({ ...now, frames: [...now.frames.slice(0, -1), { ...topFrame(now)!, item }] });
  interpreter.goTo(thread.id, to.flow.name, to.state.name);
  return 'asked-again';
}

/** The thread that `B` means where nothing is asked: the last one of the case that was spoken of. */
export function settledThread(turn: Turn): Thread | null {
  const own = turn.threads.filter((one) => one.caseId !== null && one.caseId === turn.state.lastCaseId);
  return own.findLast((one) => traitsOf(turn.world.flows, topFrame(one)).undoes !== undefined) ?? null;
}

/** What it is about: the frame's own item, or the specimen whose slides were counted last. */
function itemOf(of: Case, what: Undoable | undefined, frame: Frame): string | null {
  if (what !== 'slides' || of.specimens.some((one) => one.id === frame.item)) return frame.item;
  return of.specimens.findLast((one) => one.fixedAt !== null && one.labelledAt === null)?.id ?? null;
}

/** Not yet past what cannot be undone. */
function isOpen(of: Case, what: Undoable, item: string | null): boolean {
  if (of.frozen !== null || of.sos !== null) return false;
  // Ended by what is taken back, and by nothing else.
  if (of.closed !== null && !(what === 'referral' && of.closed === 'referred-and-seen')) return false;
  const specimen = of.specimens.find((one) => one.id === item);
  switch (what) {
    case 'referral':
      return of.closed !== null;
    case 'seen':
      return specimen?.seen === true;
    case 'reviewed':
      return specimen?.end === 'reviewed';
    case 'findings':
      return of.specimens.length === 0 && (of.status === 'decision' || of.status === 'readiness');
    case 'slides':
      return (
        specimen !== undefined && specimen.end === null && specimen.fixedAt !== null && specimen.labelledAt === null
      );
    case 'told':
      return specimen !== undefined && specimen.end === null;
    default:
      return assertNever(what);
  }
}

/** What the answer had ended goes on. */
function reopen(turn: Turn, of: Case, what: Undoable, item: string | null): void {
  if (what === 'referral') {
    turn.record(of.id, { type: 'reopened', specimen: null });
    turn.record(of.id, answered('referral-seen', null));
  } else if (what === 'seen' || what === 'reviewed') turn.record(of.id, { type: 'reopened', specimen: item });
}

/** Name of whoever else answered something about the case after this was settled; null: nobody. */
function actedSince(turn: Turn, of: Case, frame: Frame, own: string): string | null {
  const acted = turn.questions.find(
    (one) =>
      one.caseId === of.id &&
      one.answeredBy !== null &&
      one.answeredBy !== own &&
      // In somebody's hand, with a promise, it is not answered yet.
      (one.answeredAt ?? one.openedAt) >= frame.since,
  );
  return acted ? (turn.world.roster.find((one) => one.id === acted.answeredBy)?.name ?? '') : null;
}
