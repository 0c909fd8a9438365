import { expect, it } from 'vitest';
import { decided, madeUp, opened } from './made-up.ts';
import { reasonsTold } from './reasons-told.ts';

const worker = (text: string) => ({ kind: 'said', flow: 'decision', text }) as const;
const doctor = (text: string) => ({ kind: 'said', to: 'd', role: 'doctor', step: 'decision', text }) as const;

it('a reason that the worker or the doctor does not read is a breach', () => {
  const child = decided('refer-first', ['child', 'acr-tr4']);
  const walked = madeUp([opened, child, worker('REFER FIRST.'), doctor('Q47 DECIDE AK F 9y')]);
  expect(reasonsTold.broken(walked)).toEqual([
    'worker is not told child: "REFER FIRST."',
    'doctor is not told child: "Q47 DECIDE AK F 9y"',
  ]);
});

it('a reason in both texts is none', () => {
  const said = 'Why: under 18 years old: sizes for adults do not count.';
  expect(reasonsTold.broken(madeUp([opened, decided('refer-first', ['child']), worker(said), doctor(said)]))).toEqual(
    [],
  );
});
