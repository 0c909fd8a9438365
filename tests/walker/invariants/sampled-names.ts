/** How the line's English texts name what was sampled: its side, and its size where that stands beside it. */
import type { Side } from '../lump.ts';

export interface SampledName {
  readonly kind: 'nodule' | 'node';
  readonly side: Side;
  /** `22x15x14` or `22`; null: the side alone. */
  readonly size: string | null;
}

const sides: Readonly<Record<string, Side>> = {
  ...{ right: 'right', r: 'right', left: 'left', l: 'left' },
  ...{ middle: 'isthmus', isthmus: 'isthmus', m: 'isthmus' },
};

const node = '(?<node>neck node |node |n)?';
const side = '(?<side>right|left|middle|isthmus|[rlm](?!,))';
const place = '(?:\\s(?:upper|lower))?(?: (?:level )?[ivx]+\\b|(?: above the)?\\scollarbone)?';
const thing = '(?<thing> neck node| thyroid lump| lump)?';

/** An age and a day are no size: `M 40y`, `Thy4 right 14 MAR`. */
const notDay = '(?![\\dy]| (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)\\b)';

/**
 * A side is named with a size behind it, behind the organ, before the organ, or between the code and `: is Thy4 right?`.
 * "right" alone is a word like others, `F` and `M` with a year a patient.
 */
const patterns: readonly RegExp[] = [
  new RegExp(`(?<![a-z])${node}${side}${place}${thing},?\\s(?<size>\\d{1,3}(?:x\\d{1,3})*)${notDay}`, 'gi'),
  new RegExp(`(?<node>neck node|thyroid)\\s${side}(?![a-z])`, 'gi'),
  new RegExp(`(?<![a-z])(?<side>right|left|middle)${place}(?<thing> neck node| thyroid lump| lump)`, 'gi'),
  new RegExp(`\\d{4} ${node}${side}${place}: is `, 'gi'),
];

/** All lumps and nodes that a text names. */
export function sampledNames(text: string): readonly SampledName[] {
  return patterns.flatMap((pattern) =>
    [...text.matchAll(pattern)].map(({ groups }): SampledName => {
      const { node: before = '', thing: behind = '', side: said, size } = groups!;
      const isNode = /^n/i.test(before) || / node/i.test(behind);
      return { kind: isNode ? 'node' : 'nodule', side: sides[said!.toLowerCase()]!, size: size ?? null };
    }),
  );
}
