import { expect, it } from 'vitest';
import { doubtsKept } from './doubts-kept.ts';
import { answer, decided, madeUp, opened } from './made-up.ts';

it('a needle as if all signs were known, or with a low TSH and no scan, is a breach', () => {
  const untold = [opened, answer('asked.story', ['unknown'])];
  expect(doubtsKept.broken(madeUp([...untold, decided('sample')]))).toHaveLength(1);
  expect(doubtsKept.broken(madeUp([...untold, decided('sample', ['danger-signs-unknown'])]))).toEqual([]);
  const low = [opened, answer('tsh', 'low')];
  expect(doubtsKept.broken(madeUp([...low, decided('sample')]))).toHaveLength(1);
  expect(doubtsKept.broken(madeUp([...low, answer('scan', 'not-hot'), decided('sample')]))).toEqual([]);
});
