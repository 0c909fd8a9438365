/** Answers that name their question by themselves: an attempt's number, a code, one digit a slide. They go there, whatever is asked. */
import { toAsciiDigits } from '../text/digits.ts';
import { isOpenAlarm } from './alarm-digits.ts';
import { dropEmptyNew } from './empty-new.ts';
import { type Interpreter, stateOf, topFrame } from './interpret.ts';
import type { Answer } from './reading.ts';
import type { Thread } from './state.ts';
import type { Turn } from './turn.ts';

export type Elsewhere =
  /** Of this question alone. */
  | { readonly kind: 'one'; readonly thread: Thread; readonly answer: Answer }
  /** Of several patients' questions: of none before it is known which. */
  | { readonly kind: 'several'; readonly tags: readonly string[] };

/**
 * The question that such an answer belongs to, where it is not the one asked now or not that alone. `read` reads the text against
 * a thread's question; null where it answers none. A question asked now that reads it as well is one of several.
 */
export function answerElsewhere(
  turn: Turn,
  asking: Thread | null,
  text: string,
  read: (thread: Thread) => Answer | null,
): Elsewhere | null {
  if (turn.event.kind !== 'text' || !/^\D{0,3}\d[\d\s.,-]*\d/u.test(toAsciiDigits(text).trim())) return null;
  // Another patient's code on this patient's glass is what the question about the code is for.
  const ofGlass = asking?.ask?.kind === 'code';
  const others = turn.threads.filter(
    (one) => one.id !== asking?.id && namesItself(turn, one) && !(ofGlass && one.ask?.kind === 'code'),
  );
  const fits = others.flatMap((thread) => {
    const answer = read(thread);
    return answer && (thread.ask?.kind !== 'code' || answer.outcome === 'answered') ? [{ thread, answer }] : [];
  });
  const first = fits[0];
  if (!first) return null;
  // `1 1` with another patient asked about: two answers here, or that needle's number with a space in it. Nobody can know.
  if (asking !== null && asking.caseId !== first.thread.caseId && isSpacedOut(text)) {
    const ids = [asking.caseId, first.thread.caseId].filter((id) => id !== null);
    return { kind: 'several', tags: ids.map((id) => turn.caseOf(id)?.tag ?? '') };
  }
  const isAskedToo = asking !== null && read(asking) !== null;
  const ofCases = new Set(
    // Of several the text names two: the patient who was asked about last is one of them.
    [first.thread.caseId, ...(isAskedToo ? [asking.caseId] : []), ...fits.map((one) => one.thread.caseId)].filter(
      (id) => id !== null,
    ),
  );
  if (ofCases.size > 1) return { kind: 'several', tags: [...ofCases].map((id) => turn.caseOf(id)?.tag ?? '') };
  return isAskedToo ? null : { kind: 'one', ...first };
}

/** The conversation goes to that thread. Whether a patient is to be begun beside its needle is no question any more. */
export function goTo(turn: Turn, interpreter: Interpreter, thread: Thread): void {
  turn.aboutCaseId = thread.caseId;
  dropEmptyNew(turn, (one) => one.ask?.kind === 'choice');
  interpreter.raise(thread.id);
}

/** Its answers look like no other question's. */
function namesItself(turn: Turn, thread: Thread): boolean {
  const frame = topFrame(thread);
  const ask = thread.ask && frame ? stateOf(turn, frame)?.ask : null;
  if (!ask || thread.ask?.moved || isOpenAlarm(turn, frame)) return false;
  return ask.numbered !== null || ask.kind === 'code' || ask.typed === true;
}

/** Single digits with something between them. */
const isSpacedOut = (text: string): boolean => /^\D*\d(?:[\s.,-]+\d)+\D*$/u.test(toAsciiDigits(text));
