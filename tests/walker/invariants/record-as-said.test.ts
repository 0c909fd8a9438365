import { expect, it } from 'vitest';
import { answer, asks, decided, madeUp, opened } from './made-up.ts';
import { recordAsSaid } from './record-as-said.ts';

const quick = { kind: 'sent', text: 'NEW AK risks 0 haemophilia', ids: ['bleeding-disorder'] } as const;

it('a bleeding disorder that was said and is not in the record at the decision is a breach', () => {
  const walked = madeUp([quick, opened, answer('risks', []), decided('no-sampling')]);
  expect(recordAsSaid.broken(walked)).toHaveLength(1);
});

it('one that is in the record, or was taken back at a question of its own, is none', () => {
  const kept = madeUp([quick, opened, answer('bleeding', ['bleeding-disorder']), decided('refer-first')]);
  expect(recordAsSaid.broken(kept)).toEqual([]);
  const again = {
    kind: 'sent',
    text: '40',
    ids: ['none'],
    ask: asks('bleeding', ['bleeding-disorder', 'none']),
  } as const;
  expect(recordAsSaid.broken(madeUp([quick, opened, again, answer('bleeding', []), decided('sample')]))).toEqual([]);
});
