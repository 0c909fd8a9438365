import { expect, it } from 'vitest';
import { plainDigits } from '../../src/clinical/digits.ts';

it.each([
  ['١٢٣٤٥٦٧٦', '12345676'],
  ['۰۹', '09'],
  ['०१२३४५६७८९', '0123456789'],
  ['４８２９　1354', '4829　1354'],
  ['𝟘𝟙𝟗', '019'],
  ['Thy٤ papillary', 'Thy4 papillary'],
  ['O l I S ² ½', 'O l I S ² ½'],
])('%s is read as %s', (typed, plain) => {
  expect(plainDigits(typed)).toBe(plain);
});
