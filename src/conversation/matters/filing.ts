/** What a filed result sets going: the doctors' question by its urgency, and the clinic's next steps. */

import { type Case, currentResult, specimenOf } from '../../case/case.ts';
import type { OwnWayType } from '../../clinical/cytology/result-words.ts';
import type { FlowQuestion, QuestionAbout } from '../flow.ts';
import type { Moment } from '../moment.ts';
import { carrier, ladder } from '../people.ts';
import { durationOf } from '../programme.ts';
import type { Question } from '../state.ts';
import type { Turn } from '../turn.ts';
import { contradiction, doesCystNotFit, isPressingResult, type ResultKind, resultKind } from './result-kind.ts';

/** Asked about a benign result that does not fit; asked again while the doctor has not decided. */
export const discordantQuestion: FlowQuestion = question('thy2-discordant', 'this-week', [
  'repeat 1',
  'refer 2',
  'call-me 3',
  'agree 4',
]);

/** Where a needle again settles nothing: Thy3f, a second Thy3a, a second Thy1, a cancer named beside a category that is none. */
const referFirst = (urgency: string): FlowQuestion => question('refer-first', urgency, ['refer 1', 'call-me 2']);
const thy3 = question('thy3', 'this-week', ['refer 1', 'repeat 2', 'call-me 3']);
const thy4 = question('thy4', 'today', ['refer 1', 'call-me 2']);
const thy5 = question('thy5', 'today', ['refer 1', 'call-me 2']);
const nodeUrgent = question('node-urgent', 'today', ['tissue 1', 'refer 2', 'call-me 3']);

/** The way that a named type asks for, before or instead of thyroid surgery. */
const firstByType: Readonly<Record<OwnWayType, string>> = {
  anaplastic: 'airway-first',
  lymphoma: 'core-biopsy',
  medullary: 'tests-first',
  metastasis: 'find-primary',
};

/** Answers that send the patient to the hospital; what else they say stands in their words. */
export const refersBy: ReadonlySet<string> = new Set(['refer', 'tissue', 'treat', ...Object.values(firstByType)]);

/** What the doctors are asked about a result; null where nobody needs to answer. */
function questionFor(of: Case, item: string, kind: ResultKind): FlowQuestion | null {
  const { canonical, types = [] } = currentResult(specimenOf(of, item)!)!.result;
  const [type] = types;
  switch (kind) {
    case 'urgent':
      if (type === 'cancer') return referFirst('today');
      if (type) return question('typed', 'today', [`${firstByType[type]} 1`, 'refer 2', 'call-me 3']);
      return canonical === 'Thy5' ? thy5 : thy4;
    case 'refer':
      return canonical === 'Thy3f' ? referFirst('this-week') : thy3;
    case 'second-atypia':
      return referFirst('this-week');
    case 'second':
      return referFirst('routine');
    case 'repeat':
      return question('thy1', doesCystNotFit(of, item) ? 'this-week' : 'routine', ['repeat 1', 'refer 2', 'call-me 3']);
    case 'discordant':
      return types.length > 0 ? { ...discordantQuestion, urgency: 'today' } : discordantQuestion;
    case 'node-urgent':
      return nodeUrgent;
    case 'node-treat':
      return question('node-treat', 'today', ['treat 1', 'refer 2', 'call-me 3']);
    case 'node-repeat':
      return question('node-repeat', 'routine', ['repeat 1', 'tissue 2', 'call-me 3']);
    case 'node-second':
      return question('node-second', 'routine', ['tissue 1', 'refer 2', 'call-me 3']);
    case 'benign':
    case 'node-benign':
      return null;
  }
}

const phoned = question('phoned', 'today', ['done 1', 'not-yet 2']);

/** Acknowledging needs the tag; asking to be called, or to try again, only adds care. */
export function question(about: QuestionAbout, urgency: string, options: readonly string[]): FlowQuestion {
  return {
    about,
    urgency,
    options: options.map((one) => {
      const [id = '', reply = ''] = one.split(' ');
      return { id, reply, care: id === 'call-me' || id === 'not-yet' };
    }),
  };
}

/** What doctors are asked about a result. */
export const resultQuestions: ReadonlySet<string> = new Set([
  ...['thy1', 'thy2-discordant', 'thy3', 'thy4', 'thy5', 'refer-first', 'typed', 'phoned', 'result-stopped'],
  ...['node-urgent', 'node-treat', 'node-repeat', 'node-second', 'nothing-left'],
]);

/** What the doctors have not answered yet about this specimen's result. */
export function openAboutResult(moment: Moment, item: string): readonly Question[] {
  return moment.questions.filter(
    (one) =>
      resultQuestions.has(one.about) && one.caseId === moment.case?.id && one.item === item && one.answeredAt === null,
  );
}

/** The laboratory had not enough to say anything: Thy1 of a lump, L1 of a node. */
function saysNothing(of: Case, item: string): boolean {
  const specimen = specimenOf(of, item);
  const canonical = specimen ? currentResult(specimen)?.result.canonical : undefined;
  return canonical?.startsWith('Thy1') === true || canonical === 'L1';
}

/** Asks the doctor, starts the clinic's steps, and takes back what an earlier result had set going. */
export function resultConsequences(turn: Turn, of: Case, item: string): void {
  for (const open of turn.questions) {
    if (resultQuestions.has(open.about) && open.caseId === of.id && open.item === item && open.answeredAt === null) {
      turn.putQuestion({ ...open, answeredAt: turn.now, answeredBy: 'line', answer: 'replaced' });
    }
  }
  if (of.practice) return;
  const kind = resultKind(of, item);
  const spec = questionFor(of, item, kind);
  const asked = spec ? turn.openQuestion(spec, of.id, item).askedOf : toldOnly(turn, of, item, kind);
  if (isPressingResult(of, item)) askLater(turn, of, item);
  // Whoever saw the first result hears of the second one, asked or not.
  if ((specimenOf(of, item)?.results.length ?? 0) > 1) {
    const key = spec ? 'doctor.amended' : 'doctor.amended-benign';
    for (const doctor of ladder(turn.world, turn.now)) {
      if (asked.includes(doctor.id)) continue;
      turn.post(doctor.id, { kind: 'tell', key, caseId: of.id, item, vars: {}, lane: 'notice' }, { caseId: of.id });
    }
  }
  const who = carrier(turn.world, of);
  const plain = saysNothing(of, item) ? ({ plain: 'thy1' } as const) : {};
  const run = { kind: 'run', flow: 'action', caseId: of.id, item, vars: {}, ...plain } as const;
  if (who) turn.post(who.id, run, { caseId: of.id });
  else turn.notify('coordinators', 'duty.action-doctor', 'notice', of.id, item, {});
}

/** The open question about this result that a doctor's choice settles; null where none is open. */
export function openResultQuestion(turn: Turn, caseId: string, item: string): Question | null {
  const open = turn.questions.filter(
    (one) => one.caseId === caseId && one.item === item && one.answeredAt === null && resultQuestions.has(one.about),
  );
  return open.find((one) => one.about !== 'phoned') ?? null;
}

/** Asks the doctors about this result once more: the question of before was let go without a decision. */
export function askOfResult(turn: Turn, of: Case, item: string): void {
  const spec = questionFor(of, item, resultKind(of, item));
  if (spec) turn.openQuestion(spec, of.id, item);
}

/** A text is not enough for these results: unless somebody was told meanwhile, the doctors are asked for the phone call. */
function askLater(turn: Turn, of: Case, item: string): void {
  const at = turn.now + durationOf(turn.world.programme, 'phone-call');
  turn.openQuestion(phoned, of.id, item, '', { firstRungAt: at });
}

/**
 * A benign result against which something not asked or not seen could still speak, and every node without cancer cells, which
 * rules neither tuberculosis out nor the lump: the first doctor sees it, with that said, and nothing waits for it (our
 * convention; what is known to contradict is asked). Returns who was told.
 */
function toldOnly(turn: Turn, of: Case, item: string, kind: ResultKind): readonly string[] {
  const first = ladder(turn.world, turn.now)[0];
  if (!first) return [];
  if (kind !== 'node-benign' && contradiction(of, item) !== 'possible') return [];
  const key = kind === 'node-benign' ? 'doctor.node-benign' : 'doctor.thy2-perhaps';
  turn.post(first.id, { kind: 'tell', key, caseId: of.id, item, vars: {}, lane: 'notice' }, { caseId: of.id });
  return [first.id];
}
