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
