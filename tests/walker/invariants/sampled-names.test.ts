import { expect, it } from 'vitest';
import { sampledNames } from './sampled-names.ts';

const named = (text: string) => sampledNames(text).map(({ kind, side, size }) => `${kind} ${side} ${size ?? '-'}`);

it.each([
  ['CODE 4829 1354. NAME, BIRTH YEAR, CODE, R 22mm, 1/4 to 4/4.', ['nodule right 22']],
  ['BIRTH YEAR, CODE, R upper 22mm', ['nodule right 22']],
  ['BIRTH YEAR, CODE, NR 29mm', ['node right 29']],
  ['FNA CAPILLARY THYROID\nISTHMUS\n44x34x33 MM', ['nodule isthmus 44x34x33', 'nodule isthmus -']],
  ['NECK NODE RIGHT\n29 MM', ['node right 29', 'node right -']],
  ['patient FD F, aged 40 to 49. RIGHT thyroid lump, 29x22x21 mm.', ['nodule right 29x22x21', 'nodule right -']],
  ['READ BACK 6246 6643: ER F, NECK NODE R 29 mm.', ['node right 29', 'node right -']],
  ['6546 2876 R: is Thy1c right? Look at the slide.', ['nodule right -']],
  ['6546 2876 NODE L: is L4 right? Look at the slide.', ['node left -']],
  ['FNA CAPILLARY THYROID RIGHT\nUPPER\n19x15x13 MM', ['nodule right 19x15x13', 'nodule right -']],
  ['NECK NODE LEFT IV\n20 MM', ['node left 20', 'node left -']],
  ['NECK NODE L level II 26: L1 node not readable', ['node left 26', 'node left -']],
  ['Seen: M 44x34x33 part fluid', ['nodule isthmus 44x34x33']],
])('"%s" names what was sampled', (text, all) => {
  expect(named(text)).toEqual(all);
});

it.each([
  'SH M 1976 8061 0978: is all right?',
  'AK M, 22x15x14 mm',
  'had a needle before: Thy4 right 14 MAR, Thy3a middle 19 MAR',
  'IU M 40y 3535 8926',
  'is Thy4 right? 2 NOT',
  'L5 node: lymphoma',
])('"%s" names nothing that was sampled', (text) => {
  expect(named(text)).toEqual([]);
});
