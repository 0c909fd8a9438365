/** The reasons, cautions and comparisons of a decision in the reader's words. */

import { answerOf } from '../../case/case.ts';
import { aimsOf } from '../../case/target.ts';
import type { AssessedNodule } from '../../clinical/indication.ts';
import type { PolicyId } from '../../clinical/policies/policy.ts';
import type { KeyIn } from '../../generated/text-keys.ts';
import type { Moment } from '../moment.ts';
import { decidedOf } from './decided.ts';

function words(moment: Moment, key: KeyIn<'decision'>, value = ''): string {
  return moment.world.texts.render(moment.person.locale, `decision.${key}`, () => value);
}

/** Reasons that a worker needs; the levels of the systems are the doctor's. */
export function whyText(moment: Moment): string {
  const because = decidedOf(moment)?.because ?? [];
  const plain = because.filter((one) => !/^(acr|eu|ata)-/.test(one));
  return plain.map((one) => words(moment, `because-${one}`)).join(', ');
}

/** All cautions, each a sentence, the tag first; '' when there are none. */
export function cautionsText(moment: Moment): string {
  const cautions = (decidedOf(moment)?.cautions ?? []).filter((one) => one !== 'policies-disagree');
  const all = cautions.map((one) => words(moment, `caution-${one}`)).filter((one) => one !== '');
  return all.length === 0 ? '' : `${moment.case?.tag}: ${all.join(' ')}`;
}

/** The whole decision in two or three words. */
export function decisionWords(moment: Moment): string {
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

/** `R nodule`, or both sides with their sizes. */
export function proposedText(moment: Moment): string {
  const aims = moment.case ? aimsOf(moment.case) : [];
  const sides = aims.map((one) => moment.world.texts.label(moment.person.locale, 'sideShort', one.side ?? ''));
  return words(moment, aims.length > 1 ? 'nodules' : 'nodule', sides.join('+')).trim();
}

function policyName(moment: Moment, id: PolicyId): string {
  return words(moment, `policy-${id}`);
}

/** A level that has a word, in the reader's; grades that are printed as they are stay (`TR5`, `5`). */
function levelName(moment: Moment, level: string): string {
  const key = `decision.level-${level}`;
  return moment.world.texts.has(key) ? moment.world.texts.render(moment.person.locale, key, () => '') : level;
}

/** What the other systems say: that they agree, or each one's word where they do not. Nothing where no nodule was weighed. */
export function othersText(moment: Moment): string {
  const assessment = decidedOf(moment);
  const { policy, shown } = moment.world.programme;
  const id = moment.case?.decided?.proposed[0]?.nodule;
  const nodule = assessment?.nodules.find((one) => one.id === id) ?? assessment?.nodules[0];
  const others = shown.filter((one) => one !== policy);
  if (!nodule || others.length === 0) return '';
  const own = nodule.policies[policy].decision;
  if (others.every((one) => nodule.policies[one].decision === own)) {
    return ` ${others.map((one) => policyName(moment, one)).join(', ')} ${words(moment, 'agree')}`;
  }
  return ` ${others.map((one) => `${policyName(moment, one)}: ${words(moment, `short-${nodule.policies[one].decision}`)}`).join(', ')}.`;
}

/** Every policy's level and word for a nodule, for the doctor: `ACR TR5 sample, EU 5 sample, ATA high sample`. */
export function policiesText(moment: Moment, nodule: AssessedNodule): string {
  const { policy, shown } = moment.world.programme;
  return [policy, ...shown.filter((one) => one !== policy)]
    .map((id) => {
      const reading = nodule.policies[id];
      const levels = reading.levels?.map((one) => levelName(moment, one)).join('/') ?? '';
      return `${policyName(moment, id)}${levels === '' ? '' : ` ${levels}`} ${words(moment, `short-${reading.decision}`)}`;
    })
    .join(', ');
}
