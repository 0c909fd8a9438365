/**
 * Advances one conversation by one event. Pure: the same event, world and registry always give the same result;
 * the event's `at` and `seed` are the only clock and the only randomness.
 */
import { assertNever } from '../clinical/assert-never.ts';
import { isRaised } from './alarm-digits.ts';
import type { StepResult } from './effect.ts';
import { dropForgottenNew } from './empty-new.ts';
import type { LineEvent } from './event.ts';
import { isFrozen } from './frozen.ts';
import { hearEvent } from './hear-event.ts';
import { rememberSaid } from './hearing/copies.ts';
import { keepPatientNear } from './hearing/patient-near.ts';
import { askingThread, Interpreter, stateOf, topFrame } from './interpret.ts';
import { joinByLink } from './join-by-link.ts';
import { joinSays } from './join-says.ts';
import { forgetBrief, keepVoice } from './keep-voice.ts';
import { mend, pointsToNothing } from './mend.ts';
import type { Registry } from './moment.ts';
import { askMoved, moveOn } from './move-on.ts';
import { openAlarms, renewAlarms } from './open-alarm.ts';
import type { Thread } from './state.ts';
import { takeUseOff } from './stock.ts';
import { passOn, reachesAway } from './stopped.ts';
import { hearStopped, hearStranger } from './strangers.ts';
import { traitsOf } from './traits.ts';
import { Turn } from './turn.ts';
import { letVoidGo } from './void-results.ts';
import { wakePerson } from './wake.ts';
import { wakeLine } from './wake-line.ts';
import type { World } from './world.ts';

/** What one event causes. Throws only on a bug; the line then parks the event and tells a human. */
export function step(world: World, event: LineEvent, registry: Registry): StepResult {
  const turn = new Turn(world, event, registry);
  mend(turn);
  renewAlarms(turn);
  moveOn(turn);
  dropForgottenNew(turn);
  forgetBrief(turn);
  letVoidGo(turn);
  const openBefore = new Set(turn.threads.map((one) => one.ask?.messageId ?? ''));
  const besidePatient = event.kind === 'due' ? questionAtTheBed(turn) : null;
  keepPatientNear(turn);
  dispatch(turn);
  keepPatientNear(turn);
  forgetMore(turn);
  askReleased(turn);
  keepOnTop(turn, besidePatient);
  askMoved(turn);
  repeatInterrupted(turn, openBefore);
  keepVoice(turn);
  takeUseOff(turn);
  return rememberSaid(joinSays(turn.finish()));
}

function dispatch(turn: Turn): void {
  const event = turn.event;
  if (event.kind === 'due') {
    if (pointsToNothing(turn, event.due)) return;
    if (turn.person && event.due.personId !== null) {
      if (turn.person.state !== 'joined' && !reachesAway(turn, turn.person, event.due)) {
        passOn(turn, turn.person, event.due);
        return;
      }
      wakePerson(turn, turn.person, event.due);
      return;
    }
    wakeLine(turn, event.due);
    return;
  }
  if (joinByLink(turn)) return;
  const text = event.kind === 'tap' ? event.reply : event.text;
  const { person } = turn;
  if (!person) {
    hearStranger(turn, text);
    return;
  }
  switch (person.state) {
    case 'invited':
    case 'suspended':
      hearStranger(turn, text);
      return;
    case 'stopped':
      hearStopped(turn, person, text);
      return;
    case 'joined':
      hearEvent(turn, person, event);
      return;
    default:
      assertNever(person.state);
  }
}

/** MORE goes on with what was shown last, and with nothing else: once anything came between, it must be asked for anew. */
function forgetMore(turn: Turn): void {
  const { more } = turn.state;
  if (more === null || more !== turn.world.conversation.more) return;
  const heard = turn.event.kind !== 'due';
  if (heard || turn.says.some((one) => one.personId === turn.person?.id)) turn.state = { ...turn.state, more: null };
}

/** The open question about a patient whose needle was just out, when it is the one being asked. */
function questionAtTheBed(turn: Turn): Thread | null {
  const asking = askingThread(turn);
  return asking && traitsOf(turn.world.flows, topFrame(asking)).bedside === 'needle' ? asking : null;
}

/** What comes by itself (a doctor's answer, a result, a reminder) does not push that question away. */
function keepOnTop(turn: Turn, before: Thread | null): void {
  const now = before ? askingThread(turn) : null;
  if (!before?.ask || !now || now.id === before.id || isRaised(turn, topFrame(now)) || !turn.person) return;
  const same = turn.threads.find((one) => one.id === before.id);
  if (same?.ask?.messageId !== before.ask.messageId) return;
  new Interpreter(turn, turn.person).raise(before.id);
  turn.disturbed = true;
}

/** What was not asked while its case was frozen is asked once that goes on: never in an alarm, nor behind another question. */
function askReleased(turn: Turn): void {
  const { person } = turn;
  if (person?.state !== 'joined' || openAlarms(turn).length > 0) return;
  if (turn.says.some((one) => one.personId === person.id && one.ask !== null)) return;
  const held = turn.threads.find((one) => {
    const frame = topFrame(one);
    const isAsked = one.ask !== null || frame === null || stateOf(turn, frame)?.ask == null;
    return !isAsked && turn.caseOf(one.caseId) !== null && !isFrozen(turn, one);
  });
  if (!held) return;
  const interpreter = new Interpreter(turn, person);
  interpreter.raise(held.id);
  interpreter.show(held.id);
}

/** After something came between, the question that is open is asked again, its tag first. */
function repeatInterrupted(turn: Turn, openBefore: ReadonlySet<string>): void {
  if (!turn.disturbed || !turn.person || turn.person.state !== 'joined') return;
  const asking = askingThread(turn);
  if (!asking?.ask || !openBefore.has(asking.ask.messageId) || isFrozen(turn, asking)) return;
  // Practice does not come behind somebody's emergency, nor behind any other word about a patient.
  const { id } = turn.person;
  const aboutPatient = turn.says.some((one) => one.personId === id && (one.lane === 'sos' || one.caseId !== null));
  if (aboutPatient && traitsOf(turn.world.flows, topFrame(asking)).teaches !== undefined) return;
  const interpreter = new Interpreter(turn, turn.person);
  interpreter.raise(asking.id);
  interpreter.show(asking.id);
}
