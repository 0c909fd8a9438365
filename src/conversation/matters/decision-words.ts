/** The reasons, cautions and comparisons of a decision in the reader's words. */

import { answerOf } from '../../case/case.ts';
import { feltOf, nodulesOf } from '../../case/findings-of.ts';
import { aimOf, aimsOf, isOneSideFirst } from '../../case/target.ts';
import type { AssessedNodule } from '../../clinical/indication.ts';
import type { PolicyId } from '../../clinical/policies/policy.ts';
import type { Caution, Decision, Reason } from '../../clinical/reasons.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import { partedScreens, screenBreak } from '../../text/screens.ts';
import type { Moment } from '../moment.ts';
import { listAnswer } from './common.ts';
import { decidedOf } from './decided.ts';
import { findingsNow } from './findings-now.ts';
import { seenText } from './findings-words.ts';
import { reviewMonths } from './follow-up-day.ts';
import { impliedNow, targetText } from './target.ts';

function words(moment: Moment, key: KeyIn<'decision'>, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `decision.${key}`, () => value, moment.voice);
}

/** Reasons that a worker needs; the levels of the systems are the doctor's. */
export function whyText(moment: Moment): string {
  const because = decidedOf(moment)?.because ?? [];
  return reasonsText(
    moment,
    because.filter((one) => !/^(acr|eu|ata)-/.test(one)),
  );
}

function reasonsText(moment: Moment, reasons: readonly Reason[]): string {
  return reasons.map((one) => reasonText(moment, one, reasons)).join(', ');
}

/** Under the plain rule one size parts all solid lumps, so that it is said; the other systems have one for each look. */
function reasonText(moment: Moment, reason: Reason, all: readonly Reason[]): string {
  const isPlain =
    moment.world.programme.policy === 'common-practice' && all.includes('solid') && !all.includes('mixed');
  if (isPlain && reason === 'size-reached') return words(moment, 'because-over-size');
  if (isPlain && reason === 'size-not-reached') return words(moment, 'because-not-over-size');
  return words(moment, `because-${reason}`);
}

/** Words on as few screens as they need, the tag before each; '' where there are none. */
export function tagged(moment: Moment, said: string): string {
  const tag = moment.world.texts.render(moment.person.locale, 'decision.tagged', () => moment.case?.tag ?? '');
  return partedScreens(tag, tag, said.trim());
}

/** ` It is about the LEFT lump, 22 mm.`; '' where several lumps or no side could be meant. */
export function aboutLumpText(moment: Moment): string {
  const of = moment.case;
  if (!of?.decided) return '';
  const { proposed } = of.decided;
  const [what, more] = proposed.length > 0 || nodulesOf(of).length > 1 ? proposed : impliedNow(moment);
  if (what === undefined || more !== undefined) return '';
  const aim = aimOf(of, what);
  return aim.side === null ? '' : words(moment, 'about-lump', targetText(moment, aim));
}

/**
 * Why a patient was sent urgently, as decided: what is asked anew on another day takes no reason out of the question. Who
 * cannot lie flat is sent for that, whatever was decided.
 */
export function toldWhyText(moment: Moment): string {
  const { decision = '' } = decidedOf(moment) ?? {};
  const isSent = decision === 'emergency-now' || decision === 'refer-urgent' || isUrgentFirst(moment);
  const decided = isSent ? whyText(moment) : '';
  const cannotLie = moment.case !== null && answerOf(moment.case, 'dangers')?.includes('breathless-lying') === true;
  const lying = cannotLie ? moment.world.texts.label(moment.person.locale, 'dangers', 'breathless-lying') : '';
  const why = [lying, decided].filter((one) => one !== '').join(', ');
  return toldWhy(moment, why);
}

const toldWhy = (moment: Moment, why: string): string => (why === '' ? '' : words(moment, 'told-why', why));

/** Decisions that name no needle of their own. */
const withoutNeedle: ReadonlySet<string> = new Set(['optional', 'follow-up', 'no-sampling']);

/**
 * What the findings say that came after a doctor's yes, where they alone would not advise the needle; '' where they do, and
 * where the worker was told before the doctor was asked.
 */
export function findingsSayText(moment: Moment): string {
  const of = moment.case;
  const { decision = '' } = decidedOf(moment) ?? {};
  const isNews = (of?.decided?.at ?? 0) > (of?.answeredAt['doctor-allows'] ?? Number.POSITIVE_INFINITY);
  if (decision === 'sample' || !(withoutNeedle.has(decision) || isNews)) return '';
  // Sentences of their own: however many reasons there are, they break where a screen ends.
  return tagged(moment, words(moment, 'findings-say', `${decisionWords(moment)}.${toldWhy(moment, whyText(moment))}`));
}

/** What a doctor has to think of beside a lump that grew in weeks. */
export function growthNoteText(moment: Moment): string {
  const of = decidedOf(moment);
  return of?.decision === 'refer-urgent' && of.because.includes('rapid-growth') ? words(moment, 'growth-note') : '';
}

/** All that an emergency is told besides: nothing to ask, nothing of a laboratory or a needle. */
const ofEmergency: ReadonlySet<Caution> = new Set(['airway-first', 'breathless-not-flat']);

/** All cautions, each a sentence; '' when there are none. */
export function cautionsPlain(moment: Moment): string {
  const decided = decidedOf(moment);
  const isSaidNow = (one: Caution): boolean => decided?.decision !== 'emergency-now' || ofEmergency.has(one);
  const cautions = (decided?.cautions ?? []).filter((one) => one !== 'policies-disagree' && isSaidNow(one));
  const all = [...cautions.map((one) => words(moment, `caution-${one}`)), ...ownCautions(moment)];
  return all.flatMap((one) => (one === '' ? [] : ` ${one}`)).join('');
}

/** What a needle asks for besides: of the conversation, for they change no decision. */
function ownCautions(moment: Moment): readonly string[] {
  const of = moment.case;
  if (!of || aimsOf(of).length === 0 || decidedOf(moment)?.decision === 'emergency-now') return [];
  const own: string[] = [];
  if (isOneSideFirst(of)) own.push(words(moment, 'caution-voice-first'));
  if (answerOf(of, 'tsh') === 'high') own.push(words(moment, 'caution-tsh-high'));
  return own;
}

/** The same for the worker, on as many screens as they need. */
export function cautionsText(moment: Moment): string {
  return tagged(moment, cautionsPlain(moment));
}

/** Guided by ultrasound only where the site can use it while the needle is in. */
export function guideText(moment: Moment): string {
  if (findingsNow(moment).guidance !== true) return '';
  return guideMustText(moment) || words(moment, 'guide-recommended');
}

/** `, only guided by ultrasound` where a hand does not find the lump, whoever allowed the needle; else ''. */
export function guideMustText(moment: Moment): string {
  if (findingsNow(moment).guidance !== true) return '';
  const of = moment.case!;
  // A doctor may allow what no rule proposed.
  const isUnfelt = aimsOf(of).some(({ nodule }) => nodule !== null && feltOf(of, nodule) === false);
  return isUnfelt || decidedOf(moment)?.guidance === 'required' ? words(moment, 'guide-required') : '';
}

/** The advice for each lump, with its reasons once; screens are joined, the last one is where the question follows. */
export function sampleScreens(moment: Moment): string {
  const aims = moment.case ? aimsOf(moment.case) : [];
  const plain = {
    guide: guideText(moment),
    why: whyText(moment),
  };
  return aims
    .map((aim, index) => {
      const values: Readonly<Record<string, string>> = {
        ...plain,
        target: targetText(moment, aim),
        others: othersOf(moment, aim.nodule),
      };
      const key = index === 0 ? 'decision.sample-one' : 'decision.sample-also';
      return tagged(
        moment,
        moment.world.texts.render(moment.person.locale, key, (name) => values[name] ?? '', moment.voice),
      );
    })
    .join(screenBreak);
}

/** How soon a patient who is referred first has to be seen. */
export function referHowText(moment: Moment): string {
  return words(moment, isUrgentFirst(moment) ? 'refer-how-urgent' : 'refer-how');
}

/** Whether a patient who is referred first must not wait for an appointment's turn. */
export function isUrgentFirst(moment: Moment): boolean {
  return decidedOf(moment)?.cautions.includes('urgent-appointment') === true;
}

/** ` It looks suspicious: dark, tiny white dots.` beside an urgent appointment; '' where no look asks for one. */
export function referLookText(moment: Moment): string {
  if (!isUrgentFirst(moment)) return '';
  const nodules = decidedOf(moment)?.nodules.filter(looksSuspicious) ?? [];
  const looks = nodules.map((one) => seenText(moment, one.id)).filter((one) => one !== '');
  return looks.length === 0 ? '' : words(moment, 'refer-look', looks.join('; '));
}

/** Looks for which waiting is not as good as a needle now, by the level of each system. */
const suspicious = { 'acr-2017': 'TR5', 'eu-2017': '5', 'ata-2015': 'high' } as const;

const looksSuspicious = ({ policies }: AssessedNodule): boolean =>
  Object.entries(suspicious).some(([id, level]) => {
    const { levels = [] } = policies[id as PolicyId];
    return levels.length === 1 && levels[0] === level;
  });

/** A sentence for a lump that looks suspicious under any system; '' for others. */
export function waitNotSameText(moment: Moment): string {
  const looksSo = (decidedOf(moment)?.nodules ?? []).some((nodule) =>
    Object.entries(suspicious).some(([id, level]) => nodule.policies[id as PolicyId].levels?.includes(level)),
  );
  return looksSo ? words(moment, 'wait-not-same') : '';
}

/** What a patient was sent to a hospital for: the decision that says so, else that a doctor sent them. */
export function referredForText(moment: Moment): string {
  if (moment.case?.notSampled?.why === 'not-thyroid') return words(moment, 'for-not-thyroid');
  const { decision } = decidedOf(moment) ?? {};
  return decision !== undefined && sends.has(decision) ? decisionWords(moment) : words(moment, 'for-doctors-word');
}

const sends: ReadonlySet<Decision> = new Set(['emergency-now', 'refer-urgent', 'refer-first', 'sample-elsewhere']);

/** `in 6-12 months`: when to look again. */
export function reviewWhenText(moment: Moment): string {
  const [least, most] = reviewMonths(moment);
  return words(moment, 'in-months', least === most ? String(least) : `${least}-${most}`);
}

/** The whole decision in two or three words. */
function decisionWords(moment: Moment): string {
  return words(moment, `said-${decidedOf(moment)?.decision ?? 'ask-doctor'}`);
}

/** What hand or machine has not done yet. */
export function missingSteps(moment: Moment): string {
  const of = moment.case;
  const steps: string[] = [];
  if (of && answerOf(of, 'examined') !== true) steps.push(words(moment, 'step-examination'));
  if (of && answerOf(of, 'ultrasound.done') !== true) steps.push(words(moment, 'step-ultrasound'));
  return steps.join(', ');
}

/** Said as what is missing, not as a reason. */
const stepReasons: ReadonlySet<string> = new Set(['not-examined', 'no-ultrasound']);

/** What stands against a needle besides the steps that are missing; '' where nothing does. */
export function alsoWhyText(moment: Moment): string {
  const others = (decidedOf(moment)?.because ?? []).filter((one) => !stepReasons.has(one));
  const said = reasonsText(moment, others);
  return said === '' ? '' : tagged(moment, words(moment, 'also-why', said));
}

function policyName(moment: Moment, id: PolicyId): string {
  return words(moment, `policy-${id}`);
}

/** A level that has a word, in the reader's; grades that are printed as they are stay (`TR5`, `5`). */
function levelName(moment: Moment, level: string): string {
  const key = `decision.level-${level}`;
  return moment.world.texts.has(key) ? moment.world.texts.render(moment.person.locale, key, () => '') : level;
}

/** What each other system says where one of them parts from the programme's own; '' where all agree: that is the doctor's. */
export function othersText(moment: Moment): string {
  return othersOf(moment, moment.case?.decided?.proposed[0]?.nodule ?? null);
}

/** The same of one lump, for the systems may agree on one and part on the next. */
function othersOf(moment: Moment, id: string | null): string {
  const assessment = decidedOf(moment);
  const { policy, shown } = moment.world.programme;
  const nodule = assessment?.nodules.find((one) => one.id === id) ?? assessment?.nodules[0];
  const others = shown.filter((one) => one !== policy);
  if (!nodule) return '';
  const own = nodule.policies[policy].decision;
  if (others.every((one) => nodule.policies[one].decision === own)) return '';
  const each = others.map(
    (one) => `${policyName(moment, one)} ${words(moment, `short-${nodule.policies[one].decision}`)}`,
  );
  return words(moment, 'others-part', each.join(', '));
}

/** So many open levels of one policy are named. */
const mostLevels = 4;

/**
 * Every policy's level and word for a nodule, for the doctor: `ACR TR5 sample, EU 5 sample, ATA high sample`. Where medullary
 * cancer is in the family none of them may be used, and that is said before them.
 */
export function policiesText(moment: Moment, nodule: AssessedNodule): string {
  const all = policiesOf(moment)
    .map((id) => {
      const reading = nodule.policies[id];
      // Nearly all of them open: naming each says nothing.
      const few = (reading.levels?.length ?? 0) > mostLevels ? [] : (reading.levels ?? []);
      const levels = few.map((one) => levelName(moment, one)).join('/');
      return `${policyName(moment, id)}${levels === '' ? '' : ` ${levels}`} ${words(moment, `short-${reading.decision}`)}`;
    })
    .join(', ');
  return whetherUsed(moment, all);
}

/** The same in one word where all of them say the same: `all 4 rules sample`. Their levels stand in CASE. */
export function policiesBrief(moment: Moment, nodule: AssessedNodule): string {
  const ids = policiesOf(moment);
  const said = new Set(ids.map((id) => nodule.policies[id].decision));
  const [one] = said;
  if (ids.length < 2 || said.size !== 1 || one === undefined) return policiesText(moment, nodule);
  const shown: Readonly<Record<string, string>> = { count: String(ids.length), words: words(moment, `short-${one}`) };
  const { texts } = moment.world;
  return whetherUsed(
    moment,
    texts.render(moment.person.locale, 'doctor.rules-agree', (name) => shown[name] ?? ''),
  );
}

/** The policy that governs, then those that are shown beside it. */
function policiesOf({ world }: Moment): readonly PolicyId[] {
  const { policy, shown } = world.programme;
  return [policy, ...shown.filter((one) => one !== policy)];
}

function whetherUsed(moment: Moment, all: string): string {
  return listAnswer(moment, 'risks').includes('family-medullary') ? words(moment, 'policies-not-used', all) : all;
}
