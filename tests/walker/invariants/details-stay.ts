import type { Case } from '../../../src/case/case.ts';
import type { Recorded, Walked } from '../transcript.ts';
import { answersOf, type Invariant, recordsOf } from './invariant.ts';

/** What was seen inside a lump and at its edge. */
const seen = [
  ...['palpable', 'composition', 'spongiformWhole', 'eccentric', 'solidPartMm', 'features', 'echogenicity'],
  ...['hypoechoicPart', 'shape', 'margin', 'capsule', 'foci', 'rimExtrusion'],
] as const;

interface Lump {
  readonly site: unknown;
  /** Diameters as they were sent. */
  readonly mm: string;
  readonly seen: ReadonlyMap<string, string>;
}

/** Sizes that are sent again, with a lump more, less or in another order, move nothing from one lump to another. */
export const detailsStay: Invariant = {
  name: 'what was seen in a lump stays with the lump of its side and size, and goes to no other',
  broken: (walked) =>
    changesOf(walked).flatMap(({ before, after }) => {
      const [old, now] = [lumpsOf(before), lumpsOf(after)];
      if (old.length === 0) return [];
      return now.flatMap((lump) => {
        const [before, ...others] = old.filter((one) => isSame(one, lump));
        if (others.length > 0 || now.filter((one) => isSame(one, lump)).length > 1) return [];
        return [...lump.seen].flatMap(([field, value]) => {
          const told = `${field} ${value} of ${lump.site} ${lump.mm}`;
          if (before) return before.seen.get(field) === value ? [] : [`${told}, it was ${before.seen.get(field)}`];
          // Alone on its side before and now, it is the same one with another size.
          const [first, ...beside] = old.filter(({ site }) => site === lump.site);
          const isOnly = first && beside.length === 0 && now.filter(({ site }) => site === lump.site).length === 1;
          return isOnly && first.seen.get(field) === value ? [] : [`${told}, nobody has said so`];
        });
      });
    }),
};

interface Change {
  readonly before: Case;
  readonly after: Case;
}

/** The case before and after each text that sent sizes anew. */
function changesOf(walked: Walked): readonly Change[] {
  const records = recordsOf(walked);
  return records.flatMap((first, index) => {
    const before = records[index - 1];
    if (!before || before.record.eventId === first.record.eventId) return [];
    const together = records.slice(index).filter(({ record }) => record.eventId === first.record.eventId);
    return together.some(isSize) && !isJoined(walked, first)
      ? [{ before: before.after, after: together.at(-1)!.after }]
      : [];
  });
}

/** The patient was entered anew and is the same: what was seen by who did that was said of the other entry, which is not of this walk. */
function isJoined({ entries }: Walked, recorded: Recorded): boolean {
  const asked = entries
    .slice(0, entries.indexOf(recorded))
    .findLast((one) => one.kind === 'said' && one.to === recorded.by && one.ask !== null);
  return asked?.kind === 'said' && asked.ask?.field === 'same-patient';
}

const isSize = ({ record: { event } }: Recorded): boolean =>
  event.type === 'answered' &&
  ['nodules', 'site', 'mm'].includes(event.field) &&
  !/^(felt|node)/.test(event.item ?? '');

function lumpsOf(of: Case): readonly Lump[] {
  const answers = answersOf(of);
  const { nodules } = answers;
  return (Array.isArray(nodules) ? nodules : []).map((id) => {
    const mm = ['mm', 'mmTwo', 'mmRange'].map((field) => answers[`${id}.${field}`]).find((one) => Array.isArray(one));
    const known = seen.flatMap((field): [string, string][] => {
      const value = answers[`${id}.${field}`] ?? null;
      return value === null ? [] : [[field, JSON.stringify(value)]];
    });
    return { site: answers[`${id}.site`], mm: Array.isArray(mm) ? mm.join('x') : 'of no size', seen: new Map(known) };
  });
}

/** The same side and size, or the third diameter came to the two of before. */
const isSame = (old: Lump, now: Lump): boolean => old.site === now.site && isPart(old.mm.split('x'), now.mm.split('x'));

/** In whatever order: the largest is written first. */
const isPart = (old: readonly string[], now: readonly string[]): boolean =>
  old.length === now.length ? old.join() === now.join() : old.length === 2 && old.every((one) => now.includes(one));
