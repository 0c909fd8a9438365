/** What a filed result sets going: the doctors' question by its urgency, and the clinic's next steps. */

import { answerOf, type Case, currentResult, specimenOf } from '../../case/case.ts';
import type { EarlierSample } from '../../case/earlier.ts';
import { storedAs } from '../../case/stored.ts';
import { actionFor, type CategoryAction, isNonDiagnostic } from '../../clinical/cytology/action.ts';
import type { CanonicalCategory, CytologyCode } from '../../clinical/cytology/categories.ts';
import { contradictsFindings } from '../../clinical/cytology/discordance.ts';
import type { Assessment } from '../../clinical/indication.ts';
import type { FlowQuestion, QuestionAbout } from '../flow.ts';
import { carrier, ladder } from '../people.ts';
import { durationOf } from '../programme.ts';
import type { Turn } from '../turn.ts';

export type ResultKind = 'urgent' | 'refer' | 'repeat' | 'second' | 'benign' | 'discordant';

/** Earlier samples of the same side that could not be read. A result that is corrected is no second sample. */
function unreadableBefore(of: Case, item: string): number {
  const side = answerOf(of, 'site', specimenOf(of, item)?.nodule ?? null);
  const earlier = answerOf(of, 'earlier') ?? [];
  return earlier.filter((one) => {
    const same = one.side === null || side === undefined || one.side === side;
    return same && isNonDiagnostic(one.canonical as CanonicalCategory);
  }).length;
}

/** Every sample of this case and of those before it that has a result. */
export function samplesSoFar(of: Case): readonly EarlierSample[] {
  const before = answerOf(of, 'earlier') ?? [];
  const own = of.specimens.flatMap((one) => {
    const result = currentResult(one);
    const side = answerOf(of, 'site', one.nodule);
    return result ? [{ side: typeof side === 'string' ? side : null, canonical: result.result.canonical }] : [];
  });
  return [...before, ...own];
}

/** The table's action for the newest result of a specimen. */
export function resultAction(of: Case, item: string): CategoryAction {
  const specimen = specimenOf(of, item)!;
  return actionFor(currentResult(specimen)!.result.code as CytologyCode, unreadableBefore(of, item));
}

/** Which way a result goes on. */
export function resultKind(of: Case, item: string): ResultKind {
  const specimen = specimenOf(of, item)!;
  const canonical = currentResult(specimen)!.result.canonical as CanonicalCategory;
  if (canonical === 'Thy4' || canonical === 'Thy5') return 'urgent';
  if (canonical === 'Thy3a' || canonical === 'Thy3f') return 'refer';
  if (isNonDiagnostic(canonical)) {
    return resultAction(of, item).next === 'refer-after-second-non-diagnostic' ? 'second' : 'repeat';
  }
  return contradiction(of, item) === 'yes' ? 'discordant' : 'benign';
}

/** Whether a benign result contradicts the findings: for certain, perhaps (something was not asked or seen), or not. */
export function contradiction(of: Case, item: string): 'yes' | 'possible' | 'no' {
  const specimen = specimenOf(of, item)!;
  const canonical = currentResult(specimen)!.result.canonical as CanonicalCategory;
  const assessment = storedAs<Assessment>(of.decided?.assessment);
  const nodule = assessment?.nodules.find((one) => one.id === specimen.nodule);
  const signs = answerOf(of, 'dangerSigns') ?? [];
  return contradictsFindings(canonical, {
    dangerSigns: signs,
    ataLevels: nodule?.policies['ata-2015'].levels ?? [],
    euLevels: nodule?.policies['eu-2017'].levels ?? [],
    acrLevels: nodule?.policies['acr-2017'].levels ?? [],
  }).contradicts;
}

/** Asked about a benign result that does not fit; asked again while the doctor has not decided. */
export const discordantQuestion: FlowQuestion = question('thy2-discordant', 'this-week', [
  'repeat 1',
  'refer 2',
  'call-me 3',
  'agree 4',
]);

const questions: Readonly<Record<Exclude<ResultKind, 'benign' | 'urgent'>, FlowQuestion>> = {
  refer: question('thy3', 'this-week', ['refer 1', 'repeat 2', 'call-me 3']),
  repeat: question('thy1', 'routine', ['repeat 1', 'refer 2', 'call-me 3']),
  second: question('thy1', 'routine', ['repeat 1', 'refer 2', 'call-me 3']),
  discordant: discordantQuestion,
};
const thy4 = question('thy4', 'today', ['refer 1', 'call-me 2']);
const thy5 = question('thy5', 'today', ['refer 1', 'call-me 2']);
const phoned = question('phoned', 'today', ['done 1', 'not-yet 2']);

/** Acknowledging needs the tag; asking to be called, or to try again, only adds care. */
function question(about: QuestionAbout, urgency: string, options: readonly string[]): FlowQuestion {
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
  ...['thy1', 'thy2-discordant', 'thy3', 'thy4', 'thy5', 'phoned', 'result-stopped'],
]);

/** Asks the doctor, starts the clinic's steps, and takes back what an earlier result had set going. */
export function resultConsequences(turn: Turn, of: Case, item: string): void {
  for (const open of turn.questions) {
    if (resultQuestions.has(open.about) && open.caseId === of.id && open.item === item && open.answeredAt === null) {
      turn.putQuestion({ ...open, answeredAt: turn.now, answeredBy: 'line', answer: 'replaced' });
    }
  }
  if (of.practice) return;
  const kind = resultKind(of, item);
  const canonical = currentResult(specimenOf(of, item)!)!.result.canonical;
  const spec = kind === 'urgent' ? (canonical === 'Thy5' ? thy5 : thy4) : kind === 'benign' ? null : questions[kind];
  const asked = spec ? turn.openQuestion(spec, of.id, item).askedOf : perhapsDoesNotFit(turn, of, item);
  if (kind === 'urgent') askLater(turn, of, item);
  // Whoever saw the first result hears of the second one, asked or not.
  if ((specimenOf(of, item)?.results.length ?? 0) > 1) {
    const key = spec ? 'doctor.amended' : 'doctor.amended-benign';
    for (const doctor of ladder(turn.world, turn.now)) {
      if (asked.includes(doctor.id)) continue;
      turn.post(doctor.id, { kind: 'tell', key, caseId: of.id, item, vars: {}, lane: 'notice' }, { caseId: of.id });
    }
  }
  const who = carrier(turn.world, of);
  const run = { kind: 'run', flow: 'action', caseId: of.id, item, vars: {} } as const;
  if (who) turn.post(who.id, run, { caseId: of.id });
  else turn.notify('coordinators', 'duty.action-doctor', 'notice', of.id, item, {});
}

/** A text is not enough for these results: unless somebody was told meanwhile, the doctors are asked for the phone call. */
function askLater(turn: Turn, of: Case, item: string): void {
  const at = turn.now + durationOf(turn.world.programme, 'phone-call');
  turn.openQuestion(phoned, of.id, item, '', { firstRungAt: at });
}

/**
 * A benign result against which something not asked or not seen could still speak: the first doctor sees it, with that
 * said, and nothing waits for it (our convention; what is known to contradict is asked). Returns who was told.
 */
function perhapsDoesNotFit(turn: Turn, of: Case, item: string): readonly string[] {
  const first = ladder(turn.world, turn.now)[0];
  if (!first || contradiction(of, item) !== 'possible') return [];
  const tell = { kind: 'tell', key: 'doctor.thy2-perhaps', caseId: of.id, item, vars: {}, lane: 'notice' } as const;
  turn.post(first.id, tell, { caseId: of.id });
  return [first.id];
}
