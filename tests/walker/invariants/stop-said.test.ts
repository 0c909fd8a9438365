import { expect, it } from 'vitest';
import { answer, decided, madeUp, opened } from './made-up.ts';
import { stopSaid } from './stop-said.ts';

it('asking for the ultrasound of a patient with a bleeding disorder is a breach, saying the stop is none', () => {
  const said = [opened, answer('bleeding', ['bleeding-disorder'])];
  expect(stopSaid.broken(madeUp([...said, decided('examine-first')]))).toEqual([
    'examine-first in spite of a bleeding disorder',
  ]);
  expect(stopSaid.broken(madeUp([...said, decided('refer-first')]))).toEqual([]);
});

it.each([
  ['noisy breathing', answer('dangerSigns', ['stridor'])],
  ['an INR over 3', answer('inr', 3.6)],
  ['a lump that beats', answer('lump', ['pulsates'])],
])('a needle proposed in spite of %s is a breach, and none without it', (why, said) => {
  expect(stopSaid.broken(madeUp([opened, said, decided('sample')]))).toEqual([`sample in spite of ${why}`]);
  expect(stopSaid.broken(madeUp([opened, decided('sample')]))).toEqual([]);
});
