/** What was meant for a clinic while nobody of it was on the line: kept, and begun with whoever comes back first. */

import type { Case } from '../case/case.ts';
import { answerWords } from './answer-question.ts';
import type { Interpreter } from './interpret.ts';
import { personById, reachable, receiversOf } from './people.ts';
import { flowThatCarries, resume, waitsAtClinic } from './resume.ts';
import type { KeptAnswer } from './state.ts';
import { flowTraits } from './traits.ts';
import type { Turn } from './turn.ts';
import type { CaseBrief, Person } from './world.ts';

/** Answers that are kept for one person. Line convention. */
const mostKept = 40;

/** Nobody is there to hear this answer: it waits in the conversation that it was for, and the coordinators hear of it. */
export function keepAnswer(turn: Turn, answer: KeptAnswer): void {
  const question = turn.questions.find((one) => one.id === answer.questionId) ?? null;
  // An answer to the question that stands for another one replaces the answer to that.
  const replaced = question?.instead ?? answer.questionId;
  const stands = (one: KeptAnswer): boolean => one.questionId !== replaced || one.answer === 'words';
  const before = (turn.state.kept ?? []).filter(stands);
  turn.state = { ...turn.state, kept: [...before, answer].slice(-mostKept) };
  if (!question || turn.caseOf(answer.caseId)?.practice) return;
  const { about, item } = question;
  const by = personById(turn.world, answer.by)?.name ?? '';
  for (const one of receiversOf(turn.world, null, 'coordinators', turn.now)) {
    const vars = { about, by, answer: answerWords(turn, one, question, answer.answer, answer.words) };
    const key = 'common.answered-nobody-there';
    const what = { kind: 'tell', key, caseId: answer.caseId, item, vars, lane: 'notice' } as const;
    turn.post(one.id, what, { caseId: answer.caseId });
  }
}

/** Gives the answers that were kept about a case, null for all, to this person. */
export function giveKept(turn: Turn, to: string, caseId: string | null): void {
  const { kept = [], ...state } = turn.state;
  const given = kept.filter((one) => caseId === null || one.caseId === caseId);
  if (given.length === 0) return;
  const left = kept.filter((one) => !given.includes(one));
  turn.state = left.length === 0 ? state : { ...state, kept: left };
  for (const one of given) turn.post(to, { kind: 'answered', ...one }, { caseId: one.caseId, name: 'kept' });
}

/** True: the doctor has said since that this answer was not theirs, and is asked anew. */
export function isTakenBack(turn: Turn, { questionId }: Pick<KeptAnswer, 'questionId'>): boolean {
  const question = turn.questions.find((one) => one.id === questionId);
  const first = question?.instead ?? questionId;
  return turn.questions.some((one) => one.instead === first && one.id !== questionId && one.answeredAt === null);
}

/**
 * Somebody is back: each open case of theirs that has no conversation here begins where it stands, and so does each one of
 * the site whose owner is away, where nobody else was there to carry it. True: something is asked about at once.
 */
export function beginWhatWaits(turn: Turn, person: Person): boolean {
  const begun = person.roles.includes('worker') && beginCases(turn, person);
  const heard = (turn.state.kept ?? []).length > 0;
  giveKept(turn, person.id, null);
  return begun || heard;
}

function beginCases(turn: Turn, person: Person): boolean {
  const isAlone = !turn.world.roster.some(
    (one) => one.id !== person.id && one.siteId === person.siteId && one.roles.includes('worker') && reachable(one),
  );
  const waiting = turn.world.briefs.filter((brief) => {
    if (brief.siteId !== person.siteId) return false;
    if (brief.ownerId === person.id) return !isAllHere(turn, brief);
    const owner = personById(turn.world, brief.ownerId);
    return isAlone && (owner === null || !reachable(owner));
  });
  for (const { id } of waiting) turn.post(person.id, { kind: 'receive', caseId: id, frames: [] }, { caseId: id });
  return waiting.some((brief) => flowThatCarries(turn, brief.status) !== null);
}

/** A conversation is gone, its patient is not: where a needle was in, it begins where the case stands. */
export function goOnAtTheNeedle(turn: Turn, person: Person): void {
  for (const { id, ownerId, status } of turn.world.briefs) {
    const flow = ownerId === person.id ? flowThatCarries(turn, status) : null;
    if (flow === null || flowTraits(turn.world.flows, flow).bedside !== 'needle') continue;
    turn.post(person.id, { kind: 'receive', caseId: id, frames: [] }, { caseId: id });
  }
}

/** Of a case with several samples one may be asked about here, and another's result have come meanwhile. */
function isAllHere(turn: Turn, brief: CaseBrief): boolean {
  return brief.codes.length < 2 && turn.threads.some((one) => one.caseId === brief.id);
}

/**
 * Begins a case where it stands, with the person who carries it. One whose owner is away becomes this person's, with the
 * conversations about it that the owner has left.
 */
export function carryOn(turn: Turn, interpreter: Interpreter, of: Case): void {
  const { person } = interpreter;
  if (of.ownerId === person.id) {
    resume(turn, interpreter, of);
    return;
  }
  const owner = personById(turn.world, of.ownerId);
  if (of.practice || of.siteId !== person.siteId || !person.roles.includes('worker')) return;
  if ((owner && reachable(owner)) || !waitsAtClinic(turn, of)) return;
  // Whoever sent STOP goes on with an open alarm of their own.
  if (of.sos !== null && owner?.state === 'stopped') return;
  turn.record(of.id, { type: 'taken-over', ownerId: person.id });
  turn.say(person, 'people.given', { frame: null, caseId: of.id, vars: { who: owner?.name ?? '' } });
  turn.disturbed = true;
  // Their conversations come from there; with none it begins here.
  if (owner) turn.post(owner.id, { kind: 'hand-over', caseId: of.id, to: person.id }, { caseId: of.id });
  else resume(turn, interpreter, of);
}
