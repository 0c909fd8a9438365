/** A decision as a picture: each lump drawn, the four policies side by side, and what would change it. */
import type { Findings } from '../clinical/findings.ts';
import type { Assessment } from '../clinical/indication.ts';
import { type KnownNodule, knownFindings } from '../clinical/known.ts';
import type { PolicyId } from '../clinical/policies/policy.ts';
import type { Decision } from '../clinical/reasons.ts';
import { type Change, whatWouldChange } from '../clinical/what-would-change.ts';
import { sayWord, type Words } from '../text/say-word.ts';
import { lanesSvg } from './lanes.ts';
import { sizeText } from './look-words.ts';
import { noduleSvg, viewOfAll } from './nodule.ts';
import { otherwiseText } from './otherwise-words.ts';
import { type PolicyRow, policyLanes } from './policy-rows.ts';

/** What a programme decides of a decision. */
export interface PictureRules {
  readonly policy: PolicyId;
  readonly inrHours: number;
}

export interface NodulePicture {
  readonly id: string;
  /** `RIGHT, 22 x 15 x 14 mm`. */
  readonly title: string;
  /** The lump is one that a needle is proposed for. */
  readonly proposed: boolean;
  /** The lump as it was told, with every look in words. */
  readonly svg: string;
  /** The four policies on a ruler of sizes. */
  readonly lanes: string;
  readonly rows: readonly PolicyRow[];
}

/** What the decision would be, and what would lead there: each line alone is enough. */
export interface ChangePicture {
  readonly to: string;
  /** Answers that nobody has given yet. */
  readonly asked: readonly string[];
  /** Findings that are known, if they were otherwise. */
  readonly otherwise: readonly string[];
}

export interface DecisionPicture {
  readonly decision: Decision;
  readonly title: string;
  readonly because: readonly string[];
  readonly nodules: readonly NodulePicture[];
  readonly changes: readonly ChangePicture[];
}

/**
 * Pure: the findings, what `assess` made of them, and the words. The rows are the assessment's own readings; thresholds come
 * from the same policies read at other sizes, changes from `assess` on changed findings. Lumps of
 * about one size are drawn at one scale.
 */
export function decisionPicture(
  findings: Findings,
  assessment: Assessment,
  { policy, inrHours }: PictureRules,
  words: Words,
): DecisionPicture {
  const known = knownFindings(findings).nodules ?? [];
  const viewMm = viewOfAll(findings.nodules ?? []);
  const name = (nodule: KnownNodule): string => noduleName(nodule, words);
  const nodules = known.map((nodule, at): NodulePicture => {
    const readings = assessment.nodules.find(({ id }) => id === nodule.id)!.policies;
    const lanes = policyLanes(nodule, readings, policy, words);
    const id = `lump${at + 1}`;
    return {
      id: nodule.id,
      title: name(nodule),
      proposed: assessment.proposed.some((one) => one.nodule === nodule.id),
      svg: noduleSvg(findings.nodules![at]!, words, viewMm === undefined ? { id } : { id, viewMm }),
      lanes: lanesSvg(nodule, lanes, words, id),
      rows: lanes.map(({ row }) => row),
    };
  });
  const names = new Map(known.length > 1 ? known.map((nodule) => [nodule.id, shortName(nodule, known, words)]) : []);
  return {
    decision: assessment.decision,
    title: titleOf(assessment, words),
    because: assessment.because.map((one) => sayWord(words, `because-${one}`)),
    nodules,
    changes: grouped(whatWouldChange(findings, { policy, inrHours }), names, words),
  };
}

/** The side where one lump lies there, else its size too. */
function shortName(nodule: KnownNodule, all: readonly KnownNodule[], words: Words): string {
  const alone = nodule.site !== null && all.every((one) => one === nodule || one.site !== nodule.site);
  return alone ? sayWord(words, `picture-side-${nodule.site}`) : noduleName(nodule, words);
}

/** Side and size as far as they are known; a lump without either is `a lump`. */
function noduleName(nodule: KnownNodule, words: Words): string {
  const side =
    nodule.site === null ? sayWord(words, 'picture-side-unknown') : sayWord(words, `picture-side-${nodule.site}`);
  const size = sizeText(nodule, words);
  return [side, size].filter((one) => one !== '').join(', ');
}

function titleOf({ decision, sampleToo }: Pick<Assessment, 'decision' | 'sampleToo'>, words: Words): string {
  const said = sayWord(words, `picture-decision-${decision}`);
  return sampleToo === null ? said : `${said}, ${sayWord(words, `picture-meanwhile-${sampleToo}`)}`;
}

/** By what it would come to, in the order in which that is met first; each answer once. */
function grouped(
  changes: readonly Change[],
  names: ReadonlyMap<string, string>,
  words: Words,
): readonly ChangePicture[] {
  const titles = [...new Set(changes.map(({ to }) => titleOf(to, words)))];
  return titles.map((title) => {
    const all = changes.filter(({ to }) => titleOf(to, words) === title);
    const said = (known: boolean): readonly string[] => [
      ...new Set(
        all
          .filter((one) => one.known === known)
          .map((one) => otherwiseText(one, words, one.item === null ? '' : (names.get(one.item) ?? ''))),
      ),
    ];
    return { to: title, asked: said(false), otherwise: said(true) };
  });
}
