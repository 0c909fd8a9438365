import { expect, it } from 'vitest';
import type { CaseEvent, Json } from '../../../src/case/events.ts';
import { detailsStay } from './details-stay.ts';
import { answer, asks, madeUp, opened } from './made-up.ts';

const lump = (id: string, site: string, mm: Json, composition: Json): readonly CaseEvent[] => [
  ...[answer('site', site, id), answer('mm', mm, id), answer('composition', composition, id)],
];
/** All that one text sends is recorded at one time. */
const first = [
  ...[...lump('n1', 'right', [30, 20, 20], 'cystic'), ...lump('n2', 'right', [20, 15, 12], 'solid')],
  answer('nodules', ['n1', 'n2']),
];

it('a lump that is left after another was taken out keeps what was seen in it', () => {
  const [site, mm, composition] = lump('n1', 'right', [20, 15, 12], 'solid');
  const again = [site!, mm!, composition!, answer('nodules', ['n1'])];
  expect(detailsStay.broken(together(first, again))).toEqual([]);
  const mixedUp = [site!, mm!, answer('nodules', ['n1'])];
  expect(detailsStay.broken(together(first, mixedUp))).toEqual([
    'composition "cystic" of right 20x15x12, it was "solid"',
  ]);
});

it('of two of a side, one that has another size now has nothing of either', () => {
  const again = [answer('mm', [26, 20, 20], 'n1'), answer('nodules', ['n1', 'n2'])];
  expect(detailsStay.broken(together(first, again))).toEqual([
    'composition "cystic" of right 26x20x20, nobody has said so',
  ]);
  expect(detailsStay.broken(together(first, [...again, answer('composition', null, 'n1')]))).toEqual([]);
});

it('one that is alone on its side stays the same with another size, and a third diameter changes nothing', () => {
  const alone = [...lump('n1', 'left', [22, 15], 'solid'), answer('nodules', ['n1'])];
  expect(detailsStay.broken(together(alone, [answer('mm', [31, 15, 14], 'n1')]))).toEqual([]);
  expect(detailsStay.broken(together(alone, [answer('mm', [22, 15, 14], 'n1')]))).toEqual([]);
});

it('what a colleague saw who entered the same patient anew counts, and is of no text about sizes', () => {
  const alone = [...lump('n1', 'left', [22, 15, 14], 'solid'), answer('nodules', ['n1'])];
  const walked = together(alone, [answer('nodules', ['n1']), answer('composition', 'mixed', 'n1')]);
  const asked = (to: string) => {
    const question = { kind: 'said', to, step: 'still-open', ask: asks('same-patient', ['same', 'another']) } as const;
    const [first] = madeUp([question]).entries;
    return { ...walked, entries: [...walked.entries.slice(0, -2), first!, ...walked.entries.slice(-2)] };
  };
  expect(detailsStay.broken(asked('w'))).toEqual([]);
  expect(detailsStay.broken(asked('w2'))).toEqual(['composition "mixed" of left 22x15x14, it was "solid"']);
});

/** Each list as one text caused it. */
function together(...texts: readonly (readonly CaseEvent[])[]) {
  const walked = madeUp([opened, ...texts.flat()]);
  const texted = [['opened'], ...texts.map((events) => events.map(() => ''))].flatMap((one, which) =>
    one.map(() => `text ${which}`),
  );
  const entries = walked.entries.map((one, index) =>
    one.kind === 'recorded' ? { ...one, record: { ...one.record, eventId: texted[index]! } } : one,
  );
  return { ...walked, entries };
}
