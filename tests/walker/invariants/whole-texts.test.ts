import { expect, it } from 'vitest';
import { madeUp, opened } from './made-up.ts';
import { wholeTexts } from './whole-texts.ts';

const broken = (text: string, segments = 1): number =>
  wholeTexts.broken(madeUp([opened, { kind: 'said', flow: 'new', step: 'tsh', text, segments }])).length;

it.each(['AK: undefined', 'AK:  two blanks', '4829 1354, , 1/4', 'THYROID RIGHT\nMM', 'of {tag}', 'the lump , left'])(
  'a text with a hole is a breach: %j',
  (text) => expect(broken(text)).toBeGreaterThan(0),
);

it('a text over its limit is a breach, a whole one none', () => {
  expect(broken('long', 2)).toBe(1);
  expect(broken('AK: R 22x15x14 MM, 3 sizes in mm of each. 12 mm')).toBe(0);
});
