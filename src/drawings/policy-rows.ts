/** The four policies side by side about one lump: level, points, the size from which each samples, what each says. */
import { type BySize, readingsBySize } from '../clinical/by-size.ts';
import type { PolicyReading } from '../clinical/completions.ts';
import type { KnownNodule } from '../clinical/known.ts';
import type { Outcome, PolicyId } from '../clinical/policies/policy.ts';
import { policyIds } from '../clinical/policies/policy.ts';
import { sayWord, type Words } from '../text/say-word.ts';

/** One policy in words. `points`: null where the policy counts none. `level`: empty where it has no levels. */
export interface PolicyRow {
  readonly policy: PolicyId;
  readonly name: string;
  /** It decides in this programme; the others are shown beside it. */
  readonly governs: boolean;
  readonly level: string;
  readonly points: string | null;
  readonly threshold: string;
  readonly says: string;
  readonly decision: Outcome;
}

/** A policy's row with what its lane is drawn from. */
export interface PolicyLane {
  readonly row: PolicyRow;
  readonly bySize: BySize;
}

/** Rows in the order of print, from the readings of `assess` and from the same policy at other sizes. */
export function policyLanes(
  nodule: KnownNodule,
  readings: { readonly [P in PolicyId]: PolicyReading },
  governing: PolicyId,
  words: Words,
): readonly PolicyLane[] {
  return policyIds.map((policy) => {
    const { decision, decisions, levels = [], points } = readings[policy];
    const bySize = readingsBySize(policy, nodule);
    const row = {
      policy,
      name: sayWord(words, `policy-${policy}`),
      governs: policy === governing,
      level: levelText(policy, levels, words),
      points: points === undefined ? null : pointsText(points, words),
      threshold: thresholdText(bySize, words),
      says: saysText(decision, decisions, words),
      decision,
    };
    return { row, bySize };
  });
}

/** One level, both of two, or the least and the most worrying of those still open. */
function levelText(policy: PolicyId, levels: readonly string[], words: Words): string {
  const name = (level: string): string => (policy === 'ata-2015' ? sayWord(words, `level-${level}`) : level);
  // What fits no row stands between others, not at the end of them.
  const inOrder = levels.length > 2 ? levels.filter((one) => one !== 'unclassified') : levels;
  const [first, last] = [inOrder[0], inOrder.at(-1)];
  if (first === undefined || last === undefined) return '';
  const both = { one: name(first), other: name(last), least: name(first), most: name(last) };
  const level =
    first === last ? name(first) : sayWord(words, levels.length === 2 ? 'picture-or' : 'picture-from-to', both);
  return sayWord(words, `picture-level-${policy}`, { level });
}

function pointsText([least, most]: readonly [number, number], words: Words): string {
  if (least === most)
    return sayWord(words, least === 1 ? 'picture-point' : 'picture-points', { points: String(least) });
  return sayWord(words, 'picture-points', {
    points: sayWord(words, 'picture-from-to', { least: String(least), most: String(most) }),
  });
}

/** What is open is said with all that it may come to. */
function saysText(decision: Outcome, decisions: readonly Outcome[], words: Words): string {
  const short = (one: Outcome): string => sayWord(words, `picture-says-${one}`);
  if (decisions.length < 2) return short(decision);
  return sayWord(words, 'picture-or', {
    one: decisions.slice(0, -1).map(short).join(', '),
    other: short(decisions.at(-1)!),
  });
}

/** From which size it samples: surely, or by what is not known yet. */
function thresholdText({ of, stretches }: BySize, words: Words): string {
  const size = ({ fromMm, fromIncluded }: BySize['stretches'][number]): string =>
    sayWord(words, fromIncluded ? 'picture-size-from' : 'picture-size-over', { mm: String(fromMm) });
  const solid = of === 'solidPartMm' ? ` ${sayWord(words, 'picture-of-solid-part')}` : '';
  const possible = stretches.find(({ decisions }) => decisions.includes('sample'));
  const sure = stretches.find(({ decision }) => decision === 'sample');
  const may = stretches.find(({ decisions }) => decisions.includes('optional'));
  if (possible === undefined && may !== undefined) return sayWord(words, 'picture-needle-may', { size: size(may) });
  if (possible === undefined) {
    const silent = stretches.every(({ decision }) => decision === 'undetermined');
    return sayWord(words, silent ? 'picture-needle-silent' : 'picture-needle-never');
  }
  if (sure === undefined) return `${sayWord(words, 'picture-needle-perhaps', { size: size(possible) })}${solid}`;
  if (possible === sure) return `${size(sure)}${solid}`;
  return `${sayWord(words, 'picture-needle-between', { from: size(possible), sure: size(sure) })}${solid}`;
}
