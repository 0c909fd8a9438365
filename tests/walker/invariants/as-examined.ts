import type { Case, Specimen } from '../../../src/case/case.ts';
import { type Said, targetFacts, type Walked } from '../transcript.ts';
import { answersOf, type Invariant, recordsOf } from './invariant.ts';
import { sampledNames } from './sampled-names.ts';

/**
 * When the needle goes in, its specimen, and the line that was pencilled on its glass, have the side and the size that
 * the examination says by then: also where they were put right after the code was given.
 */
export const asExamined: Invariant = {
  name: 'what is sampled and pencilled has the side and size that were said last before the needle',
  broken: (walked) => {
    const found = recordsOf(walked).flatMap(({ record, after, at }) => {
      const { event } = record;
      if (event.type !== 'attempted' || event.attempt > 1) return [];
      const specimen = after.specimens.find(({ id }) => id === event.specimen)!;
      const said = examined(after, specimen);
      const pencilled = pencilOf(walked, specimen, at);
      return [
        ...differs(targetFacts(after, specimen), said).map((what) => `${specimen.id} ${what}`),
        ...(pencilled === null ? [] : differs(pencilled, said).map((what) => `pencil of ${specimen.id} ${what}`)),
      ];
    });
    return [...new Set(found)];
  },
};

interface Named {
  readonly side: string | null;
  /** Largest diameter, mm. */
  readonly most: number | null;
}

/** Side and size of what this specimen is of, as the record of the examination has them; null where it does not say. */
function examined(of: Case, specimen: Specimen): Named {
  const answers = answersOf(of);
  const { target } = specimen;
  const name = target.kind === 'node' ? 'node' : 'felt';
  const items = target.kind === 'nodule' && target.nodule !== null ? [target.nodule] : [name, `${name}-${target.side}`];
  const first = (field: string): unknown => items.map((item) => answers[`${item}.${field}`]).find((one) => one != null);
  const { felt } = answers;
  const onlyFelt = target.kind === 'nodule' && Array.isArray(felt) && felt.length === 1 ? felt[0] : null;
  const side = first('site') ?? onlyFelt;
  const mm = first('mm') ?? first('mmTwo') ?? first('mmRange');
  return {
    side: typeof side === 'string' && side !== 'unknown' ? side : null,
    most: Array.isArray(mm) && mm.length > 0 ? Math.max(...mm.filter((one) => typeof one === 'number')) : null,
  };
}

/** The last line for the glass of this specimen that its worker was sent before the needle. */
function pencilOf({ entries, of }: Walked, { id, target }: Specimen, before: number): Named | null {
  const line = entries.findLast(
    (one): one is Said =>
      one.kind === 'said' &&
      one.caseId === of.id &&
      one.at <= before &&
      one.ask?.field === 'slide-code' &&
      one.ask.item === id,
  );
  const named = line && sampledNames(line.text).find((one) => one.kind === target.kind && one.size !== null);
  return named ? { side: named.side, most: Number(named.size!.split('x')[0]) } : null;
}

function differs(
  has: { readonly side: string | null; readonly most?: number | null; readonly mm?: readonly number[] },
  said: Named,
): readonly string[] {
  const most = has.most ?? has.mm?.[0] ?? null;
  return [
    ...(said.side !== null && has.side !== said.side ? [`is of the ${has.side}, the ${said.side} was said last`] : []),
    ...(said.most !== null && most !== said.most ? [`is of ${most} mm, ${said.most} mm were said last`] : []),
  ];
}
