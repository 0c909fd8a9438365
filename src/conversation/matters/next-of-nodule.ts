/** Which question about one nodule comes next. */
import type { ItemField } from '../../case/answers.ts';
import { answerOf, type Case } from '../../case/case.ts';
import { feltOf, nodulesOf } from '../../case/findings-of.ts';
import type { Composition, Findings, NoduleField } from '../../clinical/findings.ts';
import { growthRule } from '../../clinical/growth.ts';
import { assess } from '../../clinical/indication.ts';
import { growthBetween } from '../../clinical/nodule.ts';
import { openQuestions } from '../../clinical/open-questions.ts';
import type { Moment } from '../moment.ts';
import { listAnswer } from './common.ts';

const looks = ['echogenicity', 'margin', 'shape', 'capsule'] as const;

type Asked = 'inside' | 'inside-again' | 'sponge' | 'eccentric' | 'solid-part' | 'looks' | 'bright' | 'rim' | 'felt';

/** Whether the case holds an answer about this nodule; one that was taken back is none. */
export function isSaidOf(of: Case, item: string, field: ItemField): boolean {
  return (answerOf(of, field, item) ?? null) !== null;
}

/** What is inside first, then how it looks, then what shines in it, as far as it matters; whether it is felt at the end. */
export function nextOfNodule(of: Case, findings: Findings, item: string, moment: Moment): NodulesNext | null {
  const { policy, shown } = moment.world.programme;
  const open = openQuestions(findings, { governing: policy, shown }).filter((one) => one.item === item);
  const asks = (field: NoduleField): boolean => open.some((one) => one.field === field);
  const said = (field: ItemField): boolean => isSaidOf(of, item, field);
  const needle = wantsNeedle(findings, item, moment);
  if (!said('composition')) {
    const useful = (['composition', 'foci', ...looks] as const).some(asks) || needle;
    return useful || nodulesOf(of).length === 1 ? { outcome: 'inside', item } : null;
  }
  if (!said('inside-again') && doesNotFit(findings, item, moment)) return { outcome: 'inside-again', item };
  const inside = answerOf(of, 'composition', item);
  const wants = (kind: Composition, field: NoduleField): boolean => inside === kind && asks(field) && !said(field);
  if (wants('spongiform', 'spongiformWhole')) return { outcome: 'sponge', item };
  if (wants('mixed', 'solidPartMm')) return { outcome: 'solid-part', item };
  if (wants('mixed', 'eccentric')) return { outcome: 'eccentric', item };
  if (!said('features') && (looks.some(asks) || needle)) return { outcome: 'looks', item };
  if (!said('asked-bright') && (asks('foci') || needle)) return { outcome: 'bright', item };
  const rim = listAnswer(moment, 'foci', item).includes('rim-calcification');
  if (rim && !said('rimExtrusion')) return { outcome: 'rim', item };
  const unclear = Array.isArray(answerOf(of, 'felt')) && feltOf(of, item) === undefined;
  return unclear && (needle || mayNeedNeedle(findings, item, moment)) ? { outcome: 'felt', item } : null;
}

export interface NodulesNext {
  readonly outcome: Asked;
  readonly item: string;
}

/** A cyst or sponge that was also said to have what neither has, or a black inside that is no fluid. */
function doesNotFit(findings: Findings, item: string, moment: Moment): boolean {
  const told = findings.nodules?.find((one) => one.id === item);
  if (!told || told.composition === 'unknown') return false;
  const alone = assess({ ...findings, nodules: [told] }, { policy: moment.world.programme.policy });
  return alone.cautions.includes('contradictory-features') && alone.missing.includes('composition');
}

/**
 * The governing policy already says sample or optional for this nodule, a sign asks for a needle whatever its size, or it has
 * grown and the doctor will be asked.
 */
function wantsNeedle(findings: Findings, item: string, moment: Moment): boolean {
  const policy = moment.world.programme.policy;
  const { nodules, proposed } = assess(findings, { policy });
  if (proposed.some((one) => one.nodule === item)) return true;
  const nodule = nodules.find((one) => one.id === item);
  const word = nodule?.policies[policy].decision;
  const told = findings.nodules?.find((one) => one.id === item);
  const growth = growthBetween(told?.earlierMm ?? [], told?.mm ?? [], growthRule(policy));
  return word === 'sample' || word === 'optional' || growth === 'grown';
}

function mayNeedNeedle(findings: Findings, item: string, moment: Moment): boolean {
  const { policy } = moment.world.programme;
  const nodule = assess(findings, { policy }).nodules.find((one) => one.id === item);
  return nodule?.policies[policy].decisions.some((one) => one === 'sample' || one === 'optional') ?? false;
}
