/** Which way a filed result goes on, from the case alone. */
import { answerOf, type Case, currentResult, specimenOf } from '../../case/case.ts';
import { type EarlierSample, earlierOf } from '../../case/earlier.ts';
import type { FiledResult } from '../../case/events.ts';
import { storedAs } from '../../case/stored.ts';
import { noduleOf, spotOf } from '../../case/target.ts';
import { actionFor, type CategoryAction, isCystOfSolid, isNonDiagnostic } from '../../clinical/cytology/action.ts';
import { type BenignReview, benignReview } from '../../clinical/cytology/benign-review.ts';
import type { CanonicalCategory, CytologyCode } from '../../clinical/cytology/categories.ts';
import { contradictsFindings, type FindingsForResult, findingsAgainst } from '../../clinical/cytology/discordance.ts';
import { isNodeCode, type NodeAdvice, nodeAdvice } from '../../clinical/cytology/nodes.ts';
import { isPressing } from '../../clinical/cytology/pressing.ts';
import { growthRule } from '../../clinical/growth.ts';
import type { Assessment } from '../../clinical/indication.ts';
import { type Growth, growthBetween } from '../../clinical/nodule.ts';
import { policyIds } from '../../clinical/policies/policy.ts';

/** Every way; those of a node are its own. */
export const resultKinds = [
  'urgent',
  'refer',
  'repeat',
  'second',
  'second-atypia',
  'benign',
  'discordant',
  'node-urgent',
  'node-treat',
  'node-repeat',
  'node-second',
  'node-benign',
] as const;
export type ResultKind = (typeof resultKinds)[number];

/** The result that counts, of a specimen that has one. */
function resultOf(of: Case, item: string): FiledResult {
  return currentResult(specimenOf(of, item)!)!.result;
}

/**
 * Earlier samples of the same side, oldest first: of nodes for a node, of lumps for a lump; of another lump of that side,
 * where both were named, none. A result that is corrected is no second sample.
 */
export function earlierSamples(of: Case, item: string): readonly EarlierSample[] {
  const target = specimenOf(of, item)?.target;
  const isNode = target?.kind === 'node';
  const earlier = (answerOf(of, 'earlier') ?? []).filter((one) => isNodeCode(one.canonical) === isNode);
  if (target === undefined) return earlier;
  const spot = spotOf(target);
  const isOther = (one: EarlierSample): boolean => spot !== null && one.spot !== undefined && one.spot !== spot;
  return earlier.filter((one) => (one.side === null || one.side === target.side) && !isOther(one));
}

/** Every sample of this case and of those before it that has a result. `dayOf` gives the day of an instant. */
export function samplesSoFar(of: Case, dayOf: (at: number) => string): readonly EarlierSample[] {
  const before = answerOf(of, 'earlier') ?? [];
  const own = of.specimens.flatMap((one) => {
    const filed = currentResult(one);
    if (!filed) return [];
    const spot = spotOf(one.target);
    const said = { side: one.target.side, canonical: filed.result.canonical, on: dayOf(filed.at) };
    return [spot === null ? said : { ...said, spot }];
  });
  return [...before, ...own];
}

/** The table's action for the newest result of a thyroid specimen. */
export function resultAction(of: Case, item: string): CategoryAction {
  const { code, types = [] } = resultOf(of, item);
  const earlier = earlierSamples(of, item).map((one) => one.canonical);
  return actionFor(code as CytologyCode, {
    earlierNonDiagnostic: earlier.filter((one) => isNonDiagnostic(one as CanonicalCategory)).length,
    earlierAtypia: earlier.filter((one) => one === 'Thy3a').length,
    types,
    seenSolid: isSeenSolid(of, item),
  });
}

function isSeenSolid(of: Case, item: string): boolean {
  const nodule = noduleOf(specimenOf(of, item)!.target);
  return nodule !== null && answerOf(of, 'composition', nodule) === 'solid';
}

/** Cyst fluid only, of a lump that the findings call solid. */
export function doesCystNotFit(of: Case, item: string): boolean {
  const { canonical } = resultOf(of, item);
  return !isNodeCode(canonical) && isCystOfSolid(canonical as CanonicalCategory, isSeenSolid(of, item));
}

/** What the newest result of a node asks for; null for a thyroid specimen. */
export function nodeActionOf(of: Case, item: string): NodeAdvice | null {
  const { code, types = [], infections = [] } = resultOf(of, item);
  if (!isNodeCode(code)) return null;
  const named = { infection: infections.length > 0, lymphoma: types.includes('lymphoma'), tumour: types.length > 0 };
  return nodeAdvice(code, named, earlierSamples(of, item).filter((one) => one.canonical === 'L1').length);
}

/** Which way a result goes on. */
export function resultKind(of: Case, item: string): ResultKind {
  const node = nodeActionOf(of, item);
  if (node) {
    switch (node.next) {
      case 'repeat-or-tissue':
        return 'node-repeat';
      case 'tissue-after-second':
        return 'node-second';
      case 'treat-infection':
        return 'node-treat';
      case 'follow-up':
        return 'node-benign';
      case 'tissue-and-tests':
      case 'by-type':
        return 'node-urgent';
    }
  }
  const { next } = resultAction(of, item);
  switch (next) {
    case 'refer-urgent':
    case 'refer-urgent-by-type':
      return 'urgent';
    case 'repeat-and-refer':
    case 'refer-diagnostic-surgery':
      return 'refer';
    case 'refer-after-second-atypia':
      return 'second-atypia';
    case 'refer-after-second-non-diagnostic':
      return 'second';
    case 'repeat-with-ultrasound':
    case 'look-for-residual-lump':
    case 'ask-if-cyst-then-repeat':
      return 'repeat';
    case 'follow-up':
      return contradiction(of, item) === 'yes' ? 'discordant' : 'benign';
  }
}

/** Days matter, and a text alone is too little. */
export function isPressingResult(of: Case, item: string): boolean {
  return isPressing(resultOf(of, item));
}

function assessedNodule(of: Case, nodule: string | null): Assessment['nodules'][number] | undefined {
  return storedAs<Assessment>(of.decided?.assessment)?.nodules.find((one) => one.id === nodule);
}

/** Growth of the sampled lump since the earlier examination; null when there was none. */
function growthOfSampled(of: Case, nodule: string | null): Growth | null {
  if (of.earlierCaseId === null || nodule === null) return null;
  const policy = policyIds.find((one) => one === of.decided?.policy) ?? 'common-practice';
  return growthBetween(earlierOf(of, nodule)?.mm ?? [], answerOf(of, 'mm', nodule) ?? [], growthRule(policy));
}

/** Whether a benign result contradicts the findings: for certain, perhaps (something was not asked or seen), or not. */
export function contradiction(of: Case, item: string): 'yes' | 'possible' | 'no' {
  const { canonical } = resultOf(of, item);
  if (isNodeCode(canonical)) return 'no';
  return contradictsFindings(canonical as CanonicalCategory, findingsForResult(of, item)).contradicts;
}

/** The same of a lump that is gone, whose cells nobody could read. */
export function speaksAgainstGone(of: Case, item: string): 'yes' | 'possible' | 'no' {
  return findingsAgainst(findingsForResult(of, item)).contradicts;
}

function findingsForResult(of: Case, item: string): FindingsForResult {
  const { types = [] } = resultOf(of, item);
  const id = noduleOf(specimenOf(of, item)!.target);
  const nodule = assessedNodule(of, id);
  return {
    dangerSigns: answerOf(of, 'dangerSigns') ?? [],
    growth: growthOfSampled(of, id),
    namesType: types.length > 0,
    ataLevels: nodule?.policies['ata-2015'].levels ?? [],
    euLevels: nodule?.policies['eu-2017'].levels ?? [],
    acrLevels: nodule?.policies['acr-2017'].levels ?? [],
  };
}

/** When and how a benign lump is looked at again, by its pattern; without ultrasound there is none. */
export function reviewOf(of: Case, item: string): BenignReview {
  const nodule = assessedNodule(of, noduleOf(specimenOf(of, item)!.target));
  const scanned = answerOf(of, 'ultrasound.done') === true;
  return benignReview(scanned ? (nodule?.policies['ata-2015'].levels ?? []) : []);
}
