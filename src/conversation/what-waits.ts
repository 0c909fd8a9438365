/** What waits, for whom, since when: said where nothing is asked, and behind an answer that no question follows. */
import type { Case } from '../case/case.ts';
import type { TextKey } from '../generated/text-keys.ts';
import { whenWords } from './answer-question.ts';
import { firstAskedAt } from './first-asked.ts';
import { type Interpreter, stateOf, topFrame } from './interpret.ts';
import { ladder, personById, reachable } from './people.ts';
import { durationOf, siteOf } from './programme.ts';
import type { Question, Thread } from './state.ts';
import { timerInstant } from './timer-instant.ts';
import type { Turn } from './turn.ts';
import type { CaseBrief, Person } from './world.ts';

/** Says what waits for or from this person although nothing is asked now. False: nothing does. */
export function sayWhatWaits(turn: Turn, interpreter: Interpreter): boolean {
  const { person } = interpreter;
  if (sayOpenQuestion(turn, person)) return true;
  if (comesNow(turn)) return true;
  const brief = person.roles.includes('worker') ? briefAtHand(turn, person) : null;
  if (!brief) return false;
  const of = turn.caseOf(brief.id);
  const what = brief.ownerId !== person.id ? withColleague(turn, person, brief) : waits(turn, interpreter, of, brief);
  turn.say(person, 'common.waits', { frame: null, caseId: brief.id, vars: { what, patient: brief.tag } });
  return true;
}

/** A question is on its way, and a text that the network delivered twice has come before it: there is nothing to say. */
function comesNow(turn: Turn): boolean {
  const since = turn.now - durationOf(turn.world.programme, 'double-window');
  return turn.threads.some((one) => {
    const { comesAt } = topFrame(one)?.vars ?? {};
    return one.ask === null && typeof comesAt === 'number' && comesAt > since;
  });
}

/** True: a question waits for this doctor's answer, and that was said. */
export function sayOpenQuestion(turn: Turn, person: Person): boolean {
  const own = turn.questions.filter((one) => one.answeredAt === null && one.askedOf.includes(person.id));
  const question = own.find((one) => one.id === turn.state.lastQuestionId) ?? own.at(-1);
  if (!question) return false;
  const vars = { q: question.tag, when: whenWords(turn, person, question.openedAt) };
  turn.say(person, 'doctor.waits-answer', { frame: null, caseId: question.caseId, item: question.item, vars });
  return true;
}

/** A receipt for an answer about a patient that neither a question nor a text follows, with what comes next. */
export function sayNoted(turn: Turn, interpreter: Interpreter, caseId: string): void {
  const of = turn.caseOf(caseId);
  if (!of || of.closed !== null) return;
  const what = waits(turn, interpreter, of, null);
  turn.say(interpreter.person, 'common.noted-next', { frame: null, caseId, vars: { what, patient: of.tag } });
}

/** The open case that the last text was about, else one of this person's own. */
function briefAtHand(turn: Turn, person: Person): CaseBrief | null {
  const { briefs } = turn.world;
  const last = briefs.find((one) => one.id === turn.state.lastCaseId && one.siteId === person.siteId);
  return last ?? briefs.find((one) => one.ownerId === person.id) ?? null;
}

function withColleague(turn: Turn, person: Person, { ownerId, codes }: CaseBrief): string {
  const owner = personById(turn.world, ownerId);
  const who = owner?.name ?? '';
  const code = codes[0];
  const key = owner && reachable(owner) ? 'common.waits-colleague' : 'common.waits-left';
  if (code === undefined) return words(turn, person, key, { who });
  return words(turn, person, `${key}-code`, { who, code });
}

function waits(turn: Turn, interpreter: Interpreter, of: Case | null, brief: CaseBrief | null): string {
  const { person } = interpreter;
  const say = (key: TextKey, at: number): string => words(turn, person, key, { when: whenWords(turn, person, at) });
  // Whether a doctor has phoned is no answer that the clinic waits for.
  const open = turn.questions.filter(
    (one) => of !== null && one.caseId === of.id && one.answeredAt === null && one.about !== 'phoned',
  );
  const asked = open.find((one) => one.about === 'wrong') ?? open[0];
  const status = of?.status ?? brief?.status;
  // A parcel waits for somebody's act: what comes by itself is only the reminder.
  const next = of?.frozen != null || status === 'posting' ? null : nextStep(turn, interpreter, of);
  const doctor = asked ? doctorWaits(turn, person, of, asked) : '';
  const parts = [
    of?.frozen == null ? '' : words(turn, person, 'common.waits-frozen'),
    doctor,
    next === null ? '' : say('common.waits-next', next),
  ].filter((one) => one !== '');
  if (parts.length > 0) return parts.join(' ');
  if (status === undefined) return '';
  const code = of?.specimens.find((one) => one.end === null && one.postedAt === null)?.code ?? brief?.codes[0] ?? '';
  if (status === 'posting' && code !== '') return words(turn, person, 'common.waits-post', { code });
  const now = turn.world.texts.render(person.locale, `desk.status-${status}`, () => '');
  const due = brief?.dueAt ?? null;
  if (due === null || due <= turn.now) return words(turn, person, 'common.waits-status', { what: now });
  return words(turn, person, 'common.waits-status-due', { what: now, when: whenWords(turn, person, due) });
}

/** What a doctor has been asked, is asked or has in hand; or that there is none to ask. */
function doctorWaits(turn: Turn, person: Person, of: Case | null, asked: Question): string {
  const say = (key: TextKey, at: number): string => words(turn, person, key, { when: whenWords(turn, person, at) });
  if (asked.promiseUntil !== null) return say('common.waits-promise', asked.promiseUntil);
  const { programme } = turn.world;
  if (ladder(turn.world, turn.now).length === 0) {
    return words(turn, person, 'common.waits-no-doctor', { voice: siteOf(programme, of?.siteId ?? '').voiceNumber });
  }
  const at = firstAskedAt(programme, asked);
  return say(at > turn.now ? 'common.waits-doctor-by-day' : 'common.waits-doctor', at);
}

/** The first instant to come at which a thread of this case goes on by itself. */
function nextStep(turn: Turn, interpreter: Interpreter, of: Case | null): number | null {
  const own = turn.threads.filter((one) => of !== null && one.caseId === of.id && one.ask === null);
  const to = own.flatMap((thread) => instantsOf(turn, interpreter, thread)).filter((at) => at > turn.now);
  return to.length === 0 ? null : Math.min(...to);
}

/** Instants of the timers that lead on; others only tell somebody else. */
function instantsOf(turn: Turn, interpreter: Interpreter, thread: Thread): readonly number[] {
  const frame = topFrame(thread);
  const state = frame ? stateOf(turn, frame) : null;
  if (!frame || !state) return [];
  return state.timers.flatMap((timer) => {
    const leads = state.transitions.get(`timer.${timer.name}`)?.target != null;
    return leads ? (timerInstant(turn, interpreter.momentOf(thread, frame), frame, state, timer) ?? []) : [];
  });
}

function words(turn: Turn, person: Person, key: TextKey, values: Readonly<Record<string, string>> = {}): string {
  return turn.world.texts.render(person.locale, key, (name) => values[name] ?? '');
}
